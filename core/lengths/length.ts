/**
 * A length in whole nanometres. Both shop systems are exact in it: 1/64 in = 396 875 nm, 0.1 mm = 100 000 nm.
 * A plain number may be assigned, so arithmetic stays easy; another unit's type may not.
 */
export type LengthNm = number & { readonly __unit?: 'nm' }

/** The system of measure a shop reads and writes sizes in. */
export type LengthUnits = 'inch' | 'millimetre'

export const NM_PER_MILLIMETRE = 1_000_000
export const NM_PER_METRE = 1_000_000_000
/** 25.4 mm exactly. @source international yard and pound agreement of 1959 */
export const NM_PER_INCH = 25_400_000
export const NM_PER_FOOT = 12 * NM_PER_INCH

/** What is written and offered is rounded to this: 1/64 in and 0.1 mm. */
export const RESOLUTION_NM: Readonly<Record<LengthUnits, LengthNm>> = {
  inch: NM_PER_INCH / 64,
  millimetre: NM_PER_MILLIMETRE / 10,
}

export const inches = (count: number): LengthNm => Math.round(count * NM_PER_INCH)
export const feet = (count: number): LengthNm => Math.round(count * NM_PER_FOOT)
export const millimetres = (count: number): LengthNm => Math.round(count * NM_PER_MILLIMETRE)

/** The nearest length that the given system of measure can write; exact halves go away from zero. */
export function roundLength(lengthNm: LengthNm, units: LengthUnits): LengthNm {
  const stepNm = RESOLUTION_NM[units]
  return Math.sign(lengthNm) * Math.round(Math.abs(lengthNm) / stepNm) * stepNm
}
