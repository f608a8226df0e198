import type { LengthNm } from '../lengths/length.ts'
import type { MovementCoefficient } from './movement.ts'
import { seasonalChange } from './seasonal-change.ts'
import type { MoistureSpan } from './seasons.ts'
import { WORKING_MARGIN_NM } from './floating-field.ts'

/**
 * A slot for a peg, screw, button or figure-eight that lets a panel move past what holds it: how far it must run to either
 * side of where the fixing sits on the day it is built.
 */
export interface FixingSlot {
  /** Away from the place where the panel is fixed. */
  readonly outwardNm: LengthNm
  /** Towards it. */
  readonly inwardNm: LengthNm
  /** The whole slot for a fixing of the given thickness. */
  readonly lengthNm: LengthNm
}

/**
 * Which part the slot is cut in. `what-stays`: an apron's slot for a button that travels with the top; the button goes outward as
 * the top grows. `what-moves`: a breadboard's tongue or the back of a drawer bottom; the peg stays and the slot travels
 * past it, so the peg is left nearer to the fixed place as the panel grows.
 */
export type SlotIn = 'what-stays' | 'what-moves'

/**
 * Slots of a breadboard end, a batten, a table top's fasteners or a drawer bottom: fixed at the middle (or at the edge that must
 * stay put), slotted everywhere else.
 * @param distanceNm across the grain, from where the panel is fixed to this fixing
 * @source derived from Wood Handbook Eq. 13-2; the working margin is common practice, no source
 */
export function fixingSlot(
  distanceNm: LengthNm,
  fixingNm: LengthNm,
  coefficient: MovementCoefficient,
  span: MoistureSpan,
  slotIn: SlotIn,
): FixingSlot {
  const { growNm, shrinkNm } = seasonalChange(distanceNm, coefficient, span)
  const [outward, inward] = slotIn === 'what-stays' ? [growNm, shrinkNm] : [shrinkNm, growNm]
  const outwardNm = outward.planned + WORKING_MARGIN_NM
  const inwardNm = inward.planned + WORKING_MARGIN_NM
  return { outwardNm, inwardNm, lengthNm: fixingNm + outwardNm + inwardNm }
}

/**
 * How far the panel's edges stand out beyond (damp) or back from (dry) the ends of a breadboard end of the same length on the day
 * it was built, at each side.
 */
export function breadboardStep(
  panelWidthNm: LengthNm,
  coefficient: MovementCoefficient,
  span: MoistureSpan,
): { readonly outNm: LengthNm; readonly backNm: LengthNm } {
  const { growNm, shrinkNm } = seasonalChange(panelWidthNm, coefficient, span)
  return { outNm: Math.ceil(growNm.planned / 2), backNm: Math.ceil(shrinkNm.planned / 2) }
}
