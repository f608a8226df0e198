import { feet, inches, NM_PER_INCH, type LengthNm } from '../lengths/length.ts'
import { USUAL_QUARTERS, writeQuarters, type Quarters } from '../wood/board-measure.ts'
import type { BoardOnHand } from './cutting-model.ts'

/** A size in which the yard usually has rough boards. */
export interface YardSize {
  readonly quarters: Quarters
  readonly widthNm: LengthNm
  readonly lengthNm: LengthNm
}

/**
 * Rough hardwood as many yards sell it: by the quarter, in random widths (6 and 8 in stand for these) and even lengths. The almanac's
 * own sizes replace it.
 * @source common practice, no source
 */
export const USUAL_YARD: readonly YardSize[] = USUAL_QUARTERS.flatMap((quarters) =>
  [inches(6), inches(8)].flatMap((widthNm) =>
    [feet(6), feet(8), feet(10)].map((lengthNm) => ({ quarters, widthNm, lengthNm })),
  ),
)

export const YARD_SOURCE =
  'rough hardwood by the quarter inch, widths of 6 and 8 in for random ones, even lengths: common practice, no source'

/**
 * Share of what is bought that is lost to knots, checks and sapwood nobody has seen yet; ends, kerfs and offcuts are in the plan already.
 * @source 15-20 % for bought lumber: common practice, no source
 */
export const YARD_WASTE = 0.15

/** A board of that size to be bought; a plan gives it an id and name of its own at the end. */
export const boardToBuy = (wood: string, size: YardSize): BoardOnHand => ({
  id: 'buy',
  name: writeQuarters(size.quarters),
  wood,
  thicknessNm: quartersNm(size.quarters),
  widthNm: size.widthNm,
  lengthNm: size.lengthNm,
  defects: [],
})

/** Rough thickness of so many quarters of an inch. */
export const quartersNm = (quarters: Quarters): LengthNm => (quarters * NM_PER_INCH) / 4
