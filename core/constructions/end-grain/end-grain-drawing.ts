import { withBoardOptions } from '../design/board-options.ts'
import { dimension, rectangle } from '../design/draw.ts'
import { fieldViews, groovesAcross, type FieldDrawing } from '../design/frame-drawing.ts'
import type { Drawing, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { endGrainSizeOf, endGrainGeometry, framesWithSizes, type EndGrainGeometry } from './end-grain-geometry.ts'
import type { EndGrainSpec } from './end-grain-spec.ts'

/** Cells from above, and the cut through the middle row with its grain standing up. */
export function drawEndGrain(spec: EndGrainSpec, facts: ShopFacts): Drawing {
  const geometry = endGrainGeometry(spec, 1, facts)
  const views = fieldViews(fieldOf(spec, geometry, facts), framesWithSizes(spec, geometry), facts)
  return { views: withBoardOptions(views, spec, endGrainSizeOf(spec, geometry, facts), facts) }
}

function fieldOf(
  spec: EndGrainSpec,
  { pattern, fieldAcrossNm, fieldAlongNm }: EndGrainGeometry,
  facts: ShopFacts,
): FieldDrawing {
  const { cellNm, thicknessNm } = spec
  const middle = pattern[Math.floor(pattern.length / 2)] ?? []
  const cell = (wood: string, x: number, y: number): Shape =>
    rectangle(x, y, cellNm, cellNm, { wood, grain: 'end', name: 'Cell' })
  return {
    acrossNm: fieldAcrossNm,
    alongNm: fieldAlongNm,
    thicknessNm,
    plan: (x, y) => [
      ...pattern.flatMap((row, down) => row.map((wood, right) => cell(wood, x + right * cellNm, y + down * cellNm))),
    ],
    section: (x, y, grooveNm, tongueNm) => [
      ...middle.map((wood, right) =>
        rectangle(x + right * cellNm, y, cellNm, thicknessNm, { wood, grain: 'along-y', name: 'Cell' }),
      ),
      ...groovesAcross(x, y, fieldAcrossNm, thicknessNm, grooveNm, tongueNm),
    ],
    dimensions: (x) => [dimension('above', 1, x, x + cellNm, facts, 'cell')],
  }
}
