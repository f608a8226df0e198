import type { Yard } from '../almanac/almanac.ts'
import type { LengthNm } from '../lengths/length.ts'
import type { BoardOnHand } from './cutting-model.ts'

/** A size in which the yard usually has rough boards. */
export interface YardSize {
  readonly thicknessNm: LengthNm
  readonly widthNm: LengthNm
  readonly lengthNm: LengthNm
}

/** Every size of the yard: each thickness in each width and length. */
export const yardSizes = ({ thicknessesNm, widthsNm, lengthsNm }: Yard): readonly YardSize[] =>
  thicknessesNm.flatMap((thicknessNm) =>
    widthsNm.flatMap((widthNm) => lengthsNm.map((lengthNm) => ({ thicknessNm, widthNm, lengthNm }))),
  )

/** A board of that size to be bought; a plan gives it an id and name of its own at the end. */
export const boardToBuy = (wood: string, { thicknessNm, widthNm, lengthNm }: YardSize): BoardOnHand => ({
  ...{ id: 'buy', name: 'to buy', wood, thicknessNm, widthNm, lengthNm },
  defects: [],
})
