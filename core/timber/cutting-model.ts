import type { Planing } from '../wood/rough-thickness.ts'
import type { LengthNm } from '../lengths/length.ts'

/** A board on hand, rough. Lengths run along the grain from its left end, widths across it from its lower edge. */
export interface BoardOnHand {
  readonly id: string
  readonly name: string
  /** Almanac wood id. */
  readonly wood: string
  readonly thicknessNm: LengthNm
  readonly widthNm: LengthNm
  readonly lengthNm: LengthNm
  /** Stretches along the board that are not used: knots, checks, sapwood. Any order, may overlap. */
  readonly defects: readonly BoardSpan[]
}

export interface BoardSpan {
  readonly fromNm: LengthNm
  readonly toNm: LengthNm
}

/** Equal parts that one piece needs, at the sizes to which they are cut out of the plank. The grain runs along the length. */
export interface PartToCut {
  readonly id: string
  readonly name: string
  /** What it is for, as on the rack: parts of all open orders are cut together. */
  readonly forPiece: string
  readonly wood: string
  readonly quantity: number
  readonly lengthNm: LengthNm
  readonly widthNm: LengthNm
  /** After planing the plank. */
  readonly thicknessNm: LengthNm
}

export interface CuttingRules {
  readonly kerfNm: LengthNm
  /** Cut off each end of a board before it is used. */
  readonly squareEndNm: LengthNm
  /** Taken off both faces together when a rough plank is planed. */
  readonly planing: Planing
  /** An offcut of at least this length and width goes back to the boards on hand; smaller ones are waste. */
  readonly usableLengthNm: LengthNm
  readonly usableWidthNm: LengthNm
}

/** A stretch of a board as seen from above: `x` along the grain, `y` across it. */
export interface Region {
  readonly x: LengthNm
  readonly y: LengthNm
  readonly lengthNm: LengthNm
  readonly widthNm: LengthNm
}

/**
 * One cut from edge to edge of the piece `through`, which it parts in two: a crosscut at right angles to the grain, a rip along
 * it. What lies between `fromNm` and `toNm` (along the board for a crosscut, across it for a rip) becomes sawdust.
 */
export interface Cut {
  readonly way: 'crosscut' | 'rip'
  readonly through: Region
  readonly fromNm: LengthNm
  readonly toNm: LengthNm
}

export interface CutPart extends Region {
  /** Id of the `PartToCut`. */
  readonly part: string
}

/** What becomes of one board: cuts in the order in which they are made, the parts, and what is left. */
export interface BoardPlan {
  readonly board: BoardOnHand
  /** true: not on hand, to be bought in this size. */
  readonly bought: boolean
  readonly cuts: readonly Cut[]
  readonly parts: readonly CutPart[]
  /** Usable offcuts. */
  readonly offcuts: readonly Region[]
}

export interface CuttingPlan {
  readonly boards: readonly BoardPlan[]
  /** Parts that fit no board on hand and no size the yard has. */
  readonly missing: readonly MissingParts[]
}

export interface MissingParts {
  readonly part: PartToCut
  readonly quantity: number
  /** What is wrong and what would do. */
  readonly reason: string
}
