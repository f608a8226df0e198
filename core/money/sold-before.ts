/** A kind of piece that was sold before, or asked about and lost. */
export interface SoldBefore {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly title: string
  readonly outcome: 'sold' | 'lost'
  /** Day on which it was taken. */
  readonly takenOn: string
  /** Price for one of them as it was said, without extras. */
  readonly eachMinor: number
  /** Wood in one of them, cubic millimeters; null: not known. */
  readonly woodMm3: number | null
}

/**
 * Those that come closest in wood, the closest first; among equals, and where no size is known, the newest. Half as much and twice as much are
 * equally far away.
 */
export function closestSold<Sold extends SoldBefore>(
  sold: readonly Sold[],
  woodMm3: number | null,
  count: number,
): readonly Sold[] {
  const distance = (of: Sold): number =>
    woodMm3 === null || woodMm3 <= 0 || of.woodMm3 === null || of.woodMm3 <= 0
      ? Infinity
      : Math.abs(Math.log(of.woodMm3 / woodMm3))
  return sold
    .map((each) => ({ each, far: distance(each) }))
    .toSorted((a, b) => (a.far === b.far ? b.each.number - a.each.number : a.far - b.far))
    .slice(0, count)
    .map(({ each }) => each)
}

/** Finished wood of parts, cubic millimeters. */
export const woodIn = (
  parts: readonly {
    readonly quantity: number
    readonly solidShare?: number
    readonly finished: { readonly lengthNm: number; readonly widthNm: number; readonly thicknessNm: number }
  }[],
): number =>
  parts.reduce((sum, { quantity, solidShare = 1, finished }) => {
    const mm3 = (finished.lengthNm / 1e6) * (finished.widthNm / 1e6) * (finished.thicknessNm / 1e6)
    return sum + mm3 * quantity * solidShare
  }, 0)
