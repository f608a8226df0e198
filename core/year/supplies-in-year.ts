import { costOfSupply, type SupplyPrice } from '../timber/supply-price.ts'
import type { LocalDay } from '../time/local-day.ts'
import { sum } from '../money/exact.ts'

/** Glue, finish or hardware that is counted, as the year looks at it. Amounts in grams, milliliters or pieces. */
export interface YearSupply {
  /** Null: no price yet. */
  readonly price: Pick<SupplyPrice, 'minor' | 'amount'> | null
  /** What was counted, oldest first. What a count has more than was left by the book was bought. */
  readonly counts: readonly { readonly atMin: number; readonly day: LocalDay; readonly amount: number }[]
  /** What steps took, oldest first. */
  readonly uses: readonly { readonly atMin: number; readonly day: LocalDay; readonly amount: number }[]
}

/** Minor units: begin and bought less end is what was used. */
export interface SuppliesInYear {
  readonly beginMinor: number
  readonly boughtMinor: number
  readonly endMinor: number
  readonly usedMinor: number
  /** Supplies counted in the year, or on hand at its ends, whose price nobody typed. */
  readonly withoutPrice: number
}

/** Supplies at what they cost today: prices of earlier days are not kept. */
export function suppliesInYear(year: number, supplies: readonly YearSupply[]): SuppliesInYear {
  const amounts = supplies.map((supply) => ({ price: supply.price, ...amountsIn(year, supply) }))
  const cost = (of: 'begin' | 'bought' | 'end'): number =>
    sum(amounts.map((each) => (each.price === null || each[of] <= 0 ? 0 : costOfSupply(each[of], each.price))))
  const [beginMinor, boughtMinor, endMinor] = [cost('begin'), cost('bought'), cost('end')]
  return {
    ...{ beginMinor, boughtMinor, endMinor },
    usedMinor: beginMinor + boughtMinor - endMinor,
    withoutPrice: amounts.filter(({ price, begin, bought, end }) => price === null && Math.max(begin, bought, end) > 0)
      .length,
  }
}

function amountsIn(
  year: number,
  { counts, uses }: YearSupply,
): { readonly begin: number; readonly bought: number; readonly end: number } {
  const [first, last] = [`${year}-01-01`, `${year}-12-31`]
  const events = [
    ...counts.map((count) => ({ ...count, isCount: true })),
    ...uses.map((use) => ({ ...use, isCount: false })),
  ].toSorted((a, b) => a.atMin - b.atMin || Number(a.isCount) - Number(b.isCount))
  let [level, begin, bought] = [0, 0, 0]
  for (const { day, amount, isCount } of events) {
    if (day > last) break
    if (isCount && day >= first) bought += Math.max(0, amount - level)
    level = isCount ? amount : Math.max(0, level - amount)
    if (day < first) begin = level
  }
  return { begin, bought, end: level }
}
