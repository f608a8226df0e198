import { ok, type Result } from '../../problems.ts'
import type { Build } from '../construction.ts'
import { NO_BOARD_OPTIONS } from '../design/board-options.ts'
import { nameOf } from '../design/products.ts'
import type { Drawing } from '../drawing.ts'
import { endGrainBoard } from '../end-grain/end-grain-board.ts'
import { drawEndGrain } from '../end-grain/end-grain-drawing.ts'
import type { EndGrainSpec } from '../end-grain/end-grain-spec.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { CellField, FramedFieldSpec } from './framed-field-spec.ts'
import { framedTitle } from './framed-title.ts'

/** A field of cells is an end-grain board with a frame and nothing else. */
export function buildCells(spec: FramedFieldSpec, field: CellField, count: number, facts: ShopFacts): Result<Build> {
  const built = endGrainBoard.build(asBoard(spec, field), count, facts)
  if (!built.ok) return built
  const { cellsAcross, cellsAlong, cellNm, woods } = field
  const names = [...new Set(woods)].map((wood) => nameOf(facts.woods, wood).toLowerCase())
  const chequer = `${names.join(' and ')} checkerboard`
  return ok({ ...built.value, title: framedTitle(spec, cellsAcross * cellNm, cellsAlong * cellNm, chequer, facts) })
}

export const drawCells = (spec: FramedFieldSpec, field: CellField, facts: ShopFacts): Drawing =>
  drawEndGrain(asBoard(spec, field), facts)

const asBoard = (spec: FramedFieldSpec, { cellsAcross, cellsAlong, cellNm, woods }: CellField): EndGrainSpec => ({
  cellsAcross,
  cellsAlong,
  cellNm,
  thicknessNm: spec.thicknessNm,
  pattern: { kind: 'chequer', woods },
  frame: spec.frame,
  ...(spec.otherFrames === undefined ? {} : { otherFrames: spec.otherFrames }),
  food: spec.food,
  ...NO_BOARD_OPTIONS,
  glue: spec.glue,
  finish: spec.finish,
  coats: spec.coats,
  ...(spec.oneSideAtATime === undefined ? {} : { oneSideAtATime: spec.oneSideAtATime }),
  ...(spec.part === undefined ? {} : { part: spec.part }),
  ...(spec.inHalves === undefined ? {} : { inHalves: spec.inHalves }),
  ...(spec.engraving === undefined ? {} : { engraving: spec.engraving }),
  ...(spec.inlay === undefined ? {} : { inlay: spec.inlay }),
})
