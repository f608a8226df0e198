import type { PartSize } from '../constructions/construction.ts'
import { inches, millimetres, type LengthNm, type LengthUnits } from '../lengths/length.ts'

/**
 * A rough size as it is marked on a board: up to the next 1/16 in or whole millimetre. What comes off later is measured at the piece.
 * @source common practice, no source
 */
export const roughSize = ({ lengthNm, widthNm, thicknessNm }: PartSize, units: LengthUnits): PartSize => {
  const up = (nm: LengthNm): LengthNm => Math.ceil(nm / MARKED_TO_NM[units]) * MARKED_TO_NM[units]
  return { lengthNm: up(lengthNm), widthNm: up(widthNm), thicknessNm: up(thicknessNm) }
}

const MARKED_TO_NM: Readonly<Record<LengthUnits, LengthNm>> = { inch: inches(1 / 16), millimetre: millimetres(1) }
