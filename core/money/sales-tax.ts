import { rounded, sum } from './exact.ts'
import { type Ppm, shareOf, WHOLE } from './rate.ts'
import { sharedOut } from './shared-out.ts'

/** A tax as the maker typed it in; no table of rates is shipped, because local rules decide. */
export interface TaxRate {
  readonly id: string
  readonly name: string
  readonly rate: Ppm
}

export interface TaxRules {
  /** Taxes that stand side by side on one base (two in parts of Canada); none: nothing is taxed. */
  readonly taxes: readonly TaxRate[]
  /** Whether prices are said with the tax in them. */
  readonly included: boolean
  /**
   * Rounded once for the paper, or for each line.
   * @source both are the seller's choice in the US (Streamlined Sales and Use Tax Agreement, section 324); in the EU by rate on the
   *   whole paper (EN 16931, BR-CO-17); halves go up in both and in the UK (HMRC VATREC12030)
   */
  readonly roundedBy: 'paper' | 'line'
}

/** An amount with or without tax on it. */
export interface TaxableLine {
  readonly minor: number
  readonly taxed: boolean
}

export interface Taxed {
  /** Without tax. */
  readonly netMinor: number
  readonly taxes: readonly {
    readonly id: string
    readonly name: string
    readonly rate: Ppm
    readonly baseMinor: number
    readonly minor: number
  }[]
  readonly taxMinor: number
  /** Always net and taxes together, to the last minor unit. */
  readonly totalMinor: number
}

/** Tax on the lines of one paper, each tax rounded once, exact halves away from zero. */
export function taxed(lines: readonly TaxableLine[], { taxes, included, roundedBy }: TaxRules): Taxed {
  const said = sum(lines.map(({ minor }) => minor))
  const withTax = lines.filter((line) => line.taxed).map(({ minor }) => minor)
  const bases = roundedBy === 'line' ? withTax : [sum(withTax)]
  const amounts = included ? taxesInside(bases, taxes) : taxesOnTop(bases, taxes)
  const taxMinor = sum(amounts)
  const baseMinor = included ? sum(withTax) - taxMinor : sum(withTax)
  const netMinor = included ? said - taxMinor : said
  return {
    netMinor,
    taxes: taxes.map(({ id, name, rate }, index) => ({ id, name, rate, baseMinor, minor: amounts[index] ?? 0 })),
    taxMinor,
    totalMinor: netMinor + taxMinor,
  }
}

const taxesOnTop = (bases: readonly number[], taxes: readonly TaxRate[]): readonly number[] =>
  taxes.map(({ rate }) => sum(bases.map((base) => shareOf(base, rate))))

/** The tax in a price is rounded first and the price is left whole, so that both always add up to what was said. */
function taxesInside(bases: readonly number[], taxes: readonly TaxRate[]): readonly number[] {
  const all = sum(taxes.map(({ rate }) => rate))
  const inside = sum(bases.map((base) => rounded(BigInt(base) * BigInt(all), BigInt(WHOLE + all))))
  const shares = sharedOut(
    Math.abs(inside),
    taxes.map(({ rate }) => BigInt(rate)),
  )
  return shares.map((share) => (inside < 0 ? -share : share))
}

/**
 * What is asked in cash where the smallest coin is larger than the minor unit; the tax stays as it is, and other ways to pay are
 * never rounded.
 * @source Canada, Budget 2012 (one-cent coin); Kentucky Department of Revenue on the end of the penny
 */
export const cashDifference = (totalMinor: number, stepMinor: number): number =>
  stepMinor <= 1 ? 0 : rounded(BigInt(totalMinor), BigInt(stepMinor)) * stepMinor - totalMinor

/** The tax that is in a part payment: in proportion to what it pays of the whole. */
export const taxInPayment = (
  paymentMinor: number,
  { taxMinor, totalMinor }: Pick<Taxed, 'taxMinor' | 'totalMinor'>,
): number => (totalMinor === 0 ? 0 : rounded(BigInt(paymentMinor) * BigInt(taxMinor), BigInt(totalMinor)))
