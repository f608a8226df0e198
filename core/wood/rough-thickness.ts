import { NM_PER_INCH, type LengthNm, type LengthUnits } from '../lengths/length.ts'
import { plainMarks } from '../lengths/plain-marks.ts'
import { readLength } from '../lengths/read-length.ts'
import { writeLength } from '../lengths/write-length.ts'
import { ok, type Result } from '../problems.ts'

/** Rough thickness as many yards name it, in quarters of an inch: 4 is 4/4, one inch. */
export const quartersNm = (quarters: number): LengthNm => (quarters * NM_PER_INCH) / 4

/** A rough thickness as it is typed, also as the yard says it: `5/4` is an inch and a quarter in any shop. */
export function readRoughThickness(text: string, units: LengthUnits): Result<LengthNm> {
  const quarters = /^(\d{1,2})\s*\/\s*4$/.exec(plainMarks(text).trim())?.[1]
  return quarters === undefined ? readLength(text, units) : ok(quartersNm(Number(quarters)))
}

/** As the yard says it: `5/4`; where it is not sold by the quarter, or under an inch, as a length: `27 mm`. */
export function writeRoughThickness(thicknessNm: LengthNm, units: LengthUnits): string {
  const quarters = thicknessNm / quartersNm(1)
  return Number.isInteger(quarters) && quarters >= 4 ? `${quarters}/4` : writeLength(thicknessNm, units)
}

/** What planing takes off both faces together: thick stock is sawn less even and cups more, so it loses more. */
export interface Planing {
  readonly planeFaceNm: LengthNm
  /** From 8/4 (50 mm) up. */
  readonly planeThickNm: LengthNm
}

/**
 * Off both faces of a rough board of this thickness.
 * @source thickness table after the NHLA rules: 4/4 to 6/4 lose 3/16 in, 8/4 to 16/4 lose 1/4 in
 */
export const planedOff = (roughNm: LengthNm, { planeFaceNm, planeThickNm }: Planing): LengthNm =>
  roughNm >= THICK_NM ? planeThickNm : planeFaceNm

/** 8/4 kiln-dried may be a sixteenth under; 50 mm stock is as thick. */
const THICK_NM = (NM_PER_INCH * 31) / 16

/**
 * Thinnest rough stock that a part of this thickness can be planed out of; null: none of these is thick enough.
 * @param planing what is taken off both faces together
 */
export function roughThicknessFor(
  thicknessNm: LengthNm,
  planing: Planing,
  thicknessesNm: readonly LengthNm[],
): LengthNm | null {
  const thick = thicknessesNm.filter((rough) => rough >= thicknessNm + planedOff(rough, planing))
  return thick.length === 0 ? null : Math.min(...thick)
}
