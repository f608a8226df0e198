import { createHash } from 'node:crypto'
import { ALLOWANCE_SOURCES } from '../../core/almanac/defaults.ts'
import { writeLength } from '../../core/lengths/write-length.ts'
import { cutInWords } from '../../core/timber/cut-words.ts'
import type { BoardPlan } from '../../core/timber/cutting-model.ts'
import { boardWarnings } from '../../core/timber/machine-limits.ts'
import { sawCautions } from '../../core/timber/saw-cautions.ts'
import type { PieceLabel } from '../piece-label.ts'
import { type TimberWork, lengthUnitsOf } from './timber-work.ts'

/** A stretch of a board as drawn: `x` along the grain from the left end, `y` across from the lower edge. */
export interface BoardStretch {
  readonly x: number
  readonly y: number
  readonly lengthNm: number
  readonly widthNm: number
}

export interface CutBoard {
  /** Of the board on hand; `buy-1` for one that is to be bought. */
  readonly id: string
  /** Null: to be bought. */
  readonly number: number | null
  readonly wood: string
  readonly thicknessNm: number
  readonly widthNm: number
  readonly lengthNm: number
  readonly place: string
  readonly flaws: readonly { readonly fromNm: number; readonly toNm: number }[]
  readonly parts: readonly (BoardStretch & { readonly letter: string })[]
  readonly offcuts: readonly BoardStretch[]
  /** In the order in which they are made; `number` counts them. */
  readonly cuts: readonly {
    readonly number: number
    readonly way: 'crosscut' | 'rip'
    readonly through: BoardStretch
    readonly fromNm: number
    readonly toNm: number
    readonly text: string
  }[]
  readonly list: readonly {
    readonly letter: string
    readonly name: string
    readonly quantity: number
    readonly lengthNm: number
    readonly widthNm: number
    readonly thicknessNm: number
    readonly piece: PieceLabel
  }[]
  /** Shares of its area, 0..1. */
  readonly usedShare: number
  readonly keptShare: number
  readonly plannedAt: number | null
  readonly warnings: readonly string[]
  readonly cautions: readonly { readonly id: string; readonly text: string }[]
  /** Says what was shown: `boardCut` is refused when the plan has changed since. */
  readonly shown: string
}

/** On hand before to buy, then by when it is milled. */
export const cutFirst = (a: CutBoard, b: CutBoard): number =>
  Number(a.number === null) - Number(b.number === null) ||
  (a.plannedAt ?? Infinity) - (b.plannedAt ?? Infinity) ||
  (a.number ?? 0) - (b.number ?? 0) ||
  a.wood.localeCompare(b.wood, 'en')

/** Numbers of the orders that a board is cut for. */
export const ordersCutFor = ({ parts }: Pick<BoardPlan, 'parts'>, work: TimberWork): number[] =>
  [...new Set(parts.flatMap(({ part }) => work.parts.get(part)?.work.lot.label.number ?? []))].toSorted((a, b) => a - b)

export function cutBoardView(plan: BoardPlan, work: TimberWork): CutBoard {
  const { board, bought } = plan
  const units = lengthUnitsOf(work)
  const onHand = bought ? undefined : work.boards.find((one) => one.id === board.id)
  const { wood, thicknessNm, widthNm, lengthNm } = board
  const ids = [...new Set(plan.parts.map(({ part }) => part))]
  const letters = new Map(ids.map((id, index) => [id, letterOf(index)]))
  const works = ids.flatMap((id) => work.parts.get(id) ?? [])
  const area = widthNm * lengthNm
  const shareOf = (stretches: readonly { readonly lengthNm: number; readonly widthNm: number }[]): number =>
    stretches.reduce((sum, one) => sum + one.lengthNm * one.widthNm, 0) / area
  const starts = works.flatMap((one) => one.work.plannedAt ?? [])
  const parts = plan.parts.map(({ part, ...stretch }) => ({ ...stretch, letter: letters.get(part) ?? '' }))
  const { offcuts } = plan
  return {
    id: board.id,
    number: onHand?.number ?? null,
    ...{ wood, thicknessNm, widthNm, lengthNm },
    place: onHand?.place ?? '',
    flaws: board.defects,
    parts,
    offcuts,
    cuts: plan.cuts.map((cut, index) => ({
      ...cut,
      number: index + 1,
      text: cutInWords(cut, { parts, offcuts }, units),
    })),
    list: works.map(({ cut, work: lot }) => ({
      letter: letters.get(cut.id) ?? '',
      name: cut.name,
      quantity: plan.parts.filter(({ part }) => part === cut.id).length,
      lengthNm: cut.lengthNm,
      widthNm: cut.widthNm,
      thicknessNm: cut.thicknessNm,
      piece: lot.lot.label,
    })),
    usedShare: shareOf(plan.parts),
    keptShare: shareOf(plan.offcuts),
    plannedAt: starts.length === 0 ? null : Math.min(...starts),
    warnings: boardWarnings(widthNm, work.moment.almanac.allowances, units),
    cautions: sawCautions(plan.cuts, [...plan.parts, ...plan.offcuts]),
    shown: stampOf(plan),
  }
}

/** A, B, ... Z, AA, AB, ... */
const letterOf = (index: number): string =>
  (index < 26 ? '' : letterOf(Math.floor(index / 26) - 1)) + String.fromCharCode(65 + (index % 26))

/** Tells one plan of a board from another. */
export const stampOf = (plan: BoardPlan): string =>
  createHash('sha256').update(JSON.stringify(plan)).digest('base64url').slice(0, 22)

export function whyPlan(work: TimberWork): string[] {
  const { rules } = work
  const say = (nm: number): string => writeLength(nm, lengthUnitsOf(work))
  return [
    `The saw takes ${say(rules.kerfNm)} at each cut (${ALLOWANCE_SOURCES.sawKerfNm}), ${say(rules.squareEndNm)} is cut off each end (${ALLOWANCE_SOURCES.squareEndNm}), planing takes ${say(rules.planing.planeFaceNm)} off both faces, ${say(rules.planing.planeThickNm)} from 8/4 up (${ALLOWANCE_SOURCES.planeFaceNm}). All three are in the Almanac.`,
    'Every cut goes from edge to edge. The grain runs along each part. No part lies over a defect.',
    `An offcut of ${say(rules.usableLengthNm)} by ${say(rules.usableWidthNm)} or more counts as kept.`,
    'What is used and what is kept are shares of the board seen from above. The rest is kerf, ends, defects and pieces too small to keep.',
    'Of about 500 layouts for each wood the best is kept: fewest parts without a board, least to buy, least wood used. No board is bought whose parts find room on unused boards on hand and offcuts. There may be a better one.',
  ]
}
