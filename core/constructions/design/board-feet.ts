import { NM_PER_INCH } from '../../lengths/length.ts'
import type { Part } from '../construction.ts'

/** Board feet of parts at their rough sizes, exact and without waste: 1 board foot is 144 cubic inches. */
export const boardFeetOf = (parts: readonly Part[]): number =>
  parts.reduce((sum, { quantity, rough }) => sum + (quantity * cubicInches(rough)) / 144, 0)

const cubicInches = ({ lengthNm, widthNm, thicknessNm }: Part['rough']): number =>
  (lengthNm / NM_PER_INCH) * (widthNm / NM_PER_INCH) * (thicknessNm / NM_PER_INCH)

/** Square feet of both faces and the four edges of a slab. */
export function surfaceSquareFeet(acrossNm: number, alongNm: number, thicknessNm: number): number {
  const feet = (nm: number): number => nm / NM_PER_INCH / 12
  return 2 * (feet(acrossNm) * feet(alongNm) + feet(thicknessNm) * (feet(acrossNm) + feet(alongNm)))
}
