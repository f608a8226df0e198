import type { LengthNm } from '../lengths/length.ts'
import { movement, type MovementCoefficient } from './movement.ts'
import type { MoistureSpan } from './seasons.ts'

/** How far a size grows and shrinks from the day it is built, nanometres, both 0 or more; `low` to `high` as the cut is unknown. */
export interface SeasonalChange {
  readonly growNm: NmRange
  readonly shrinkNm: NmRange
}

export interface NmRange {
  readonly low: LengthNm
  readonly planned: LengthNm
  readonly high: LengthNm
}

/** A size across the grain from its build to the dampest and to the driest season. */
export const seasonalChange = (
  sizeNm: LengthNm,
  coefficient: MovementCoefficient,
  span: MoistureSpan,
): SeasonalChange => ({
  growNm: rangeOf(sizeNm, coefficient, span.buildPct, Math.max(span.buildPct, span.dampPct)),
  shrinkNm: rangeOf(sizeNm, coefficient, Math.min(span.buildPct, span.dryPct), span.buildPct),
})

/**
 * Coefficient of a size that several woods share side by side, each with its part of it; the parts' sizes may be in any unit.
 * The sum of the parts' movements, all sharing one change of moisture.
 */
export function sharedCoefficient(
  parts: readonly { readonly size: number; readonly coefficient: MovementCoefficient }[],
): MovementCoefficient {
  const whole = parts.reduce((sum, part) => sum + part.size, 0)
  const mean = (end: 'low' | 'planned' | 'high'): number =>
    whole === 0 ? 0 : parts.reduce((sum, part) => sum + part.size * part.coefficient[end], 0) / whole
  const sources = new Set(parts.map((part) => part.coefficient.source))
  return { low: mean('low'), planned: mean('planned'), high: mean('high'), source: [...sources].join('; ') }
}

/** Sizes of an end-grain field as seen from above, and how it changes in both. */
export interface FieldChange {
  readonly across: SeasonalChange
  readonly along: SeasonalChange
}

/**
 * An end-grain field stands on its grain, so it moves across the grain in **both** directions and hardly in thickness. With the
 * rings of all blocks one way, one direction is radial and the other tangential; with rings at random both lie between and
 * the tangential value is planned with.
 * @source derived from Wood Handbook Eq. 13-2; makers' forums and magazine answers agree
 */
export const endGrainFieldChange = (
  acrossNm: LengthNm,
  alongNm: LengthNm,
  coefficients: { readonly across: MovementCoefficient; readonly along: MovementCoefficient },
  span: MoistureSpan,
): FieldChange => ({
  across: seasonalChange(acrossNm, coefficients.across, span),
  along: seasonalChange(alongNm, coefficients.along, span),
})

function rangeOf(sizeNm: LengthNm, coefficient: MovementCoefficient, fromPct: number, toPct: number): NmRange {
  const change = (end: number): number => Math.round(movement(sizeNm, end, fromPct, toPct))
  return { low: change(coefficient.low), planned: change(coefficient.planned), high: change(coefficient.high) }
}
