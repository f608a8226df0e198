import { millimetres, type LengthNm, type LengthUnits } from '../lengths/length.ts'
import { writeLength } from '../lengths/write-length.ts'
import type { SeasonalChange } from './seasonal-change.ts'

/** A field that floats between its frame's members: what it needs at each side. */
export interface FloatingField {
  /** Room to grow into at each side when it is built: between field and frame, and behind the tongue. */
  readonly clearanceNm: LengthNm
  /** The groove is at least this deep: the tongue's bite and the clearance. */
  readonly grooveDepthNm: LengthNm
  /** How far the tongue still reaches in when the field is driest. */
  readonly biteAtDriestNm: LengthNm
  readonly warnings: readonly string[]
}

/** Beyond the computed growth, so that finish and dust do not jam it; common practice, no source. */
export const WORKING_MARGIN_NM = millimetres(0.5)

/** Less than this left in the groove at the driest looks and feels loose; common practice, no source. */
export const LEAST_BITE_NM = millimetres(2)

/**
 * Clearance and groove depth for a field held at its middle only (a pin or a dab of glue at the middle of each end), so that each
 * side takes half of the movement; `one-edge`: held along one edge, and the other side takes all of it. Along the grain only
 * the working margin is needed.
 * @param biteNm how far the tongue reaches into the groove on the day it is built
 * @source derived from Wood Handbook Eq. 13-2; no handbook formula was found. Rules of thumb to compare with: up to 1/8 in per 12 in
 * of width (woodworkingtips.com e-tip 8)
 */
export function floatingField(
  change: SeasonalChange,
  biteNm: LengthNm,
  held: 'middle' | 'one-edge',
  units: LengthUnits,
): FloatingField {
  const sides = held === 'middle' ? 2 : 1
  const clearanceNm = Math.ceil(change.growNm.planned / sides) + WORKING_MARGIN_NM
  const biteAtDriestNm = biteNm - Math.ceil(change.shrinkNm.planned / sides)
  const warnings: string[] = []
  const lost = writeLength(biteNm - biteAtDriestNm, units)
  if (biteAtDriestNm <= 0) {
    warnings.push(
      `The field falls out of its groove when dry: it shrinks ${lost} a side, the tongue reaches in ${writeLength(biteNm, units)}. Make the tongue longer.`,
    )
  } else if (biteAtDriestNm < LEAST_BITE_NM) {
    const left = writeLength(biteAtDriestNm, units)
    warnings.push(`Only ${left} of the tongue is left in the groove in the driest season: make it longer.`)
  }
  return { clearanceNm, grooveDepthNm: biteNm + clearanceNm, biteAtDriestNm, warnings }
}

/**
 * What happens to a field that is glued all round into a frame whose grain runs along the edge: the frame does not follow. Null
 * where the movement stays within the working margin.
 */
export function gluedSolidWarning(fieldNm: LengthNm, change: SeasonalChange, units: LengthUnits): string | null {
  const { growNm, shrinkNm } = change
  if (growNm.planned + shrinkNm.planned <= WORKING_MARGIN_NM) return null
  const grows = `grows ${writeLength(growNm.planned, units)} in the damp season and shrinks ${writeLength(shrinkNm.planned, units)} in the dry one`
  return `A field ${writeLength(fieldNm, units)} wide, glued solid into its frame, ${grows}; the frame does not follow, so miters open or the field cracks. Let it float in a groove.`
}
