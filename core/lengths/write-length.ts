import {
  NM_PER_INCH,
  NM_PER_MILLIMETRE,
  RESOLUTION_NM,
  roundLength,
  type LengthNm,
  type LengthUnits,
} from './length.ts'

/**
 * A length in the maker's units, to the nearest 1/64 in (reduced: `18 3/4"`) or 0.1 mm (`476.3 mm`).
 * @param form `feet` writes a foot or more as `1' 6 3/4"`; it has no meaning for millimetres
 */
export function writeLength(lengthNm: LengthNm, units: LengthUnits, form: 'plain' | 'feet' = 'plain'): string {
  const sign = roundLength(lengthNm, units) < 0 ? '-' : ''
  const steps = Math.round(Math.abs(lengthNm) / RESOLUTION_NM[units])
  if (units === 'millimetre') return `${sign}${steps / (NM_PER_MILLIMETRE / RESOLUTION_NM.millimetre)} mm`
  if (form === 'feet' && steps >= 12 * 64) {
    const feet = Math.floor(steps / (12 * 64))
    const rest = steps - feet * 12 * 64
    return rest === 0 ? `${sign}${feet}'` : `${sign}${feet}' ${inchFigure(rest)}"`
  }
  return `${sign}${inchFigure(steps)}"`
}

/** A length that nobody measures to the 64th: to the nearest 1/16 in, or whole millimetre. */
export function writeRoughLength(lengthNm: LengthNm, units: LengthUnits): string {
  const step = units === 'inch' ? NM_PER_INCH / 16 : NM_PER_MILLIMETRE
  return writeLength(Math.round(lengthNm / step) * step, units)
}

/** Several sizes of one thing: `16" x 12" x 1 1/2"`, `400 x 300 x 40 mm`. */
export function writeSizes(sizesNm: readonly LengthNm[], units: LengthUnits): string {
  const written = sizesNm.map((sizeNm) => writeLength(sizeNm, units))
  if (units === 'inch') return written.join(' x ')
  return written.map((size, index) => (index < written.length - 1 ? size.replace(' mm', '') : size)).join(' x ')
}

function inchFigure(sixtyFourths: number): string {
  const whole = Math.floor(sixtyFourths / 64)
  let top = sixtyFourths - whole * 64
  if (top === 0) return String(whole)
  let bottom = 64
  while (top % 2 === 0) {
    top /= 2
    bottom /= 2
  }
  return whole === 0 ? `${top}/${bottom}` : `${whole} ${top}/${bottom}`
}
