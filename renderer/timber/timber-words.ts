import { writeLength, writeSizes } from '../../core/lengths/write-length.ts'
import type { LengthUnits } from '../../core/lengths/length.ts'

interface Sizes {
  readonly thicknessNm: number
  readonly widthNm: number
  readonly lengthNm: number
}

/** As a board is said at the yard: `2" x 7 1/4" x 96"`, thickness, width, length. */
export const boardSizes = ({ thicknessNm, widthNm, lengthNm }: Sizes, units: LengthUnits): string =>
  writeSizes([thicknessNm, widthNm, lengthNm], units)

/** As a part is cut: `22 1/2" x 1 9/16" x 1 35/64"`, length along the grain, width, thickness. */
export const partSizes = ({ thicknessNm, widthNm, lengthNm }: Sizes, units: LengthUnits): string =>
  writeSizes([lengthNm, widthNm, thicknessNm], units)

/** Board feet to a tenth; under a tenth there is still some. */
export const feetInWords = (boardFeet: number): string =>
  boardFeet > 0 && boardFeet < 0.05 ? 'under 0.1' : boardFeet.toFixed(1)

/** Cubic metres to a litre. */
export const cubicMetresInWords = (cubicMetres: number): string => `${cubicMetres.toFixed(3)} m³`

/** `no. 7`, `nos. 7, 9 and 10`. */
export const numbersInWords = (numbers: readonly number[]): string =>
  numbers.length === 1
    ? `no. ${numbers[0] ?? ''}`
    : `nos. ${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1) ?? ''}`

/** `12" to 15", 41"` */
export const flawsInWords = (
  flaws: readonly { readonly fromNm: number; readonly toNm: number }[],
  units: LengthUnits,
): string =>
  flaws
    .map(({ fromNm, toNm }) =>
      fromNm === toNm ? writeLength(fromNm, units) : `${writeLength(fromNm, units)} to ${writeLength(toNm, units)}`,
    )
    .join(', ')

export const countOf = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`
