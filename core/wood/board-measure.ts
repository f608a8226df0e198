import { NM_PER_FOOT, NM_PER_INCH, type LengthNm } from '../lengths/length.ts'

/** One board foot is 144 cubic inches: 12 x 12 x 1 in. */
export const CUBIC_METRES_PER_BOARD_FOOT = 0.002359737216

/** Board feet of sizes as they are, exact. */
export const boardFeet = (thicknessNm: LengthNm, widthNm: LengthNm, lengthNm: LengthNm): number =>
  ((thicknessNm / NM_PER_INCH) * (widthNm / NM_PER_INCH) * (lengthNm / NM_PER_INCH)) / 144

/** Cubic nanometres, whole: for what is multiplied by a price. */
export const volumeNm3 = (thicknessNm: LengthNm, widthNm: LengthNm, lengthNm: LengthNm): bigint =>
  BigInt(thicknessNm) * BigInt(widthNm) * BigInt(lengthNm)

export const NM3_PER_BOARD_FOOT = 144n * BigInt(NM_PER_INCH) ** 3n
export const NM3_PER_CUBIC_METRE = 10n ** 27n

export const boardFeetOf = (nm3: bigint): number => Number(nm3) / Number(NM3_PER_BOARD_FOOT)
export const cubicMetresOf = (nm3: bigint): number => Number(nm3) / Number(NM3_PER_CUBIC_METRE)

export const cubicMetres = (thicknessNm: LengthNm, widthNm: LengthNm, lengthNm: LengthNm): number =>
  (thicknessNm / 1e9) * (widthNm / 1e9) * (lengthNm / 1e9)

/**
 * Surface measure of one board, whole square feet: width with its fractions, length in whole feet with fractions dropped.
 * Exact halves are rounded up or down by turns: `halfUp` says which it is this time.
 * @source NHLA rules as explained by AHEC and the NHLA Rules Corner (Dec 2020); halves by turns: E. Wengert
 */
export function surfaceMeasure(widthNm: LengthNm, lengthNm: LengthNm, halfUp = true): number {
  const wholeFeet = Math.floor(lengthNm / NM_PER_FOOT)
  const exact = ((widthNm / NM_PER_INCH) * wholeFeet) / 12
  const whole = Math.floor(exact)
  const rest = exact - whole
  return Math.abs(rest - 0.5) < 1e-9 ? whole + (halfUp ? 1 : 0) : Math.round(exact)
}

/**
 * What a yard charges for boards of one rough thickness, whole board feet: surface measures are added first, multiplied by the
 * thickness once. Under one inch counts as one inch.
 * @param quarters rough thickness in quarters of an inch
 * @source NHLA rules, as `surfaceMeasure`
 */
export function yardTally(
  quarters: number,
  boards: readonly { readonly widthNm: LengthNm; readonly lengthNm: LengthNm }[],
): number {
  let halfUp = true
  let surface = 0
  for (const { widthNm, lengthNm } of boards) {
    const measure = surfaceMeasure(widthNm, lengthNm, halfUp)
    if (measure !== surfaceMeasure(widthNm, lengthNm, !halfUp)) halfUp = !halfUp
    surface += measure
  }
  return Math.round((surface * Math.max(4, quarters)) / 4)
}

/** Rough thicknesses as yards name them, in quarters of an inch. */
const NAMED_QUARTERS = [4, 5, 6, 8, 10, 12, 16] as const

/**
 * The rough thickness that a board of this one is billed as, in quarters of an inch: lumber that the yard has surfaced is billed at what it was
 * sawn as, so 13/16 in counts as 4/4 and 1 3/4 in as 8/4.
 * @source thickness table after the NHLA rules: 4/4 surfaced to 13/16 or 7/8 in, 5/4 to 1 1/16, 6/4 to 1 5/16, 8/4 to 1 3/4, 12/4 to 2 3/4
 */
export const billedQuarters = (thicknessNm: LengthNm): number =>
  NAMED_QUARTERS.find((quarters) => quarters * NM_PER_INCH >= 4 * thicknessNm) ??
  Math.ceil((4 * thicknessNm) / NM_PER_INCH)

/** What a yard bills for boards of any thicknesses, whole board feet: each thickness is tallied by itself. */
export const billedBoardFeet = (
  boards: readonly { readonly thicknessNm: LengthNm; readonly widthNm: LengthNm; readonly lengthNm: LengthNm }[],
): number =>
  [...Map.groupBy(boards, ({ thicknessNm }) => billedQuarters(thicknessNm))].reduce(
    (sum, [quarters, alike]) => sum + yardTally(quarters, alike),
    0,
  )

/** What to buy so that `net` is left after a share `waste` (0..1) was lost: 80 net at 20 % is 100. */
export const withWaste = (net: number, waste: number): number => net / (1 - waste)

/** The share that is lost where so much is bought on top of what is needed: a margin of 25 % is a waste of 20 %. */
export const wasteOfMargin = (margin: number): number => margin / (1 + margin)
