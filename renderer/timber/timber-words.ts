import { writeLength, writeSizes } from '../../core/lengths/write-length.ts'
import type { LengthUnits } from '../../core/lengths/length.ts'
import { readLength } from '../../core/lengths/read-length.ts'
import { readCount } from '../../core/timber/read-board.ts'
import { billedBoardFeet, billedQuarters, boardFeet } from '../../core/wood/board-measure.ts'
import { readRoughThickness } from '../../core/wood/rough-thickness.ts'

interface Sizes {
  readonly thicknessNm: number
  readonly widthNm: number
  readonly lengthNm: number
}

/** As a board is said at the yard: `2" x 7 1/4" x 96"`, thickness, width, length. */
export const boardSizes = ({ thicknessNm, widthNm, lengthNm }: Sizes, units: LengthUnits): string =>
  writeSizes([thicknessNm, widthNm, lengthNm], units)

/** As a part is cut: `22 1/2" x 1 9/16" x 1 1/2"`, length along the grain, width, thickness. */
export const partSizes = ({ thicknessNm, widthNm, lengthNm }: Sizes, units: LengthUnits): string =>
  writeSizes([lengthNm, widthNm, thicknessNm], units)

/** Board feet to a tenth, `8.8 bd ft`; under a tenth there is still some. */
export const feetInWords = (boardFeet: number): string =>
  `${boardFeet > 0 && boardFeet < 0.05 ? 'under 0.1' : boardFeet.toFixed(1)}\u00a0bd\u00a0ft`

/** An amount of wood as the shop counts it: board feet, or cubic metres to a litre. */
export const lumberInWords = (
  { boardFeet, cubicMetres }: { readonly boardFeet: number; readonly cubicMetres: number },
  units: LengthUnits,
): string => (units === 'inch' ? feetInWords(boardFeet) : `${cubicMetres.toFixed(3)} m³`)

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

/** Glue by weight: `5.2 oz`, `1.3 lb`; `150 g`, `1.2 kg`. */
export function gramsInWords(grams: number, units: LengthUnits): string {
  if (units === 'millimetre') return grams < 1000 ? `${roundedUp(grams)} g` : `${(grams / 1000).toFixed(1)} kg`
  const ounces = grams / GRAMS_PER_OUNCE
  return ounces < 16 ? `${ounces.toFixed(1)} oz` : `${(ounces / 16).toFixed(1)} lb`
}

/** Finish by volume: `8.5 fl oz`, `1.4 qt`; `250 ml`, `1.4 l`. */
export function millilitresInWords(millilitres: number, units: LengthUnits): string {
  if (units === 'millimetre')
    return millilitres < 1000 ? `${roundedUp(millilitres)} ml` : `${(millilitres / 1000).toFixed(1)} l`
  const ounces = millilitres / MILLILITRES_PER_FLUID_OUNCE
  return ounces < 32 ? `${ounces.toFixed(1)} fl oz` : `${(ounces / 32).toFixed(1)} qt`
}

/** @source NIST Handbook 44, appendix C: avoirdupois ounce, US fluid ounce */
const GRAMS_PER_OUNCE = 28.349523125
const MILLILITRES_PER_FLUID_OUNCE = 29.5735295625

const roundedUp = (amount: number): number => Math.ceil(amount / 5) * 5

/** `Measures 10.7 bd ft, billed as 10 (4/4).`; empty until thickness, width, length and number can be read. */
export function tallyInWords(typed: Readonly<Record<'thickness' | 'width' | 'length', string>>, count: string): string {
  const thickness = readRoughThickness(typed.thickness, 'inch')
  const [width, length] = [readLength(typed.width, 'inch'), readLength(typed.length, 'inch')]
  const boards = readCount(count)
  if (!thickness.ok || !width.ok || !length.ok || !boards.ok) return ''
  const [thicknessNm, widthNm, lengthNm] = [thickness.value, width.value, length.value]
  if (Math.min(thicknessNm, widthNm, lengthNm) === 0) return ''
  const each = Array.from({ length: boards.value }, () => ({ thicknessNm, widthNm, lengthNm }))
  const measured = boards.value * boardFeet(thicknessNm, widthNm, lengthNm)
  return `Measures ${feetInWords(measured)}, billed as ${billedBoardFeet(each)} (${billedQuarters(thicknessNm)}/4).`
}
