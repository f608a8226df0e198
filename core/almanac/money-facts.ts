import type { Currency } from '../money/currency.ts'
import type { PriceRounding, Profit } from '../money/price.ts'
import type { Ppm } from '../money/rate.ts'
import type { TaxRate, TaxRules } from '../money/sales-tax.ts'
import type { SupplyPrice } from '../timber/supply-price.ts'
import type { OwnPaperWords } from '../papers/paper-words.ts'

/**
 * What prices, deposits, taxes and papers of this shop go by. Money in whole minor units, shares in parts per million. What only the
 * maker can say has no default: null.
 */
export interface MoneyFacts {
  /** Pay for an hour of hands-on work. */
  readonly payPerHourMinor: number | null
  /** By maker, where somebody's differs. */
  readonly payOfMaker: Readonly<Record<string, number>>
  /** Rent, insurance, power, wear, fairs, fees of a year. */
  readonly overheadYearMinor: number | null
  readonly handsOnHoursYear: number | null
  /** Glue, finish and abrasives as a share of the other direct cost. */
  readonly consumablesShare: Ppm
  readonly remakesShare: Ppm
  /** Whether the shop's own record moves that share. */
  readonly remakesBy: 'own-record' | 'typed'
  /** What glue, finish and hardware cost, by product or kind of fitting. */
  readonly supplyPrices: Readonly<Record<string, SupplyPrice>>
  readonly profitKind: Profit['kind']
  readonly profitRate: Ppm | null
  /** Prices are said as a whole multiple; null: of five whole units of the currency. */
  readonly priceStepMinor: number | null
  readonly priceRounding: PriceRounding
  /** Added for each piece that is engraved or inlaid, beside the hours it takes; null: nothing. */
  readonly engravingMinor: number | null
  readonly inlayMinor: number | null
  readonly taxes: readonly TaxRate[]
  readonly pricesIncludeTax: boolean
  readonly taxRoundedBy: TaxRules['roundedBy']
  readonly taxFallsOn: TaxFallsOn
  /** Smallest coin where it is larger than the minor unit; 0: cash is never rounded. */
  readonly cashStepMinor: number
  readonly depositShare: Ppm | null
  readonly depositStepMinor: number | null
  readonly quoteGoodDays: number
  /** Most that a simplified invoice may be of; null: 100.00 in EUR, elsewhere no limit. */
  readonly simplifiedUpToMinor: number | null
  /** Cash: income when paid; accrual: when handed over. */
  readonly accounting: 'cash' | 'accrual'
  readonly address: string
  readonly reach: string
  readonly taxNumber: string
  readonly terms: string
  /** What papers say in the shop's own words. */
  readonly paperWords: OwnPaperWords
  /** By units: Letter with inches, A4 with millimetres. */
  readonly paper: 'by-units' | 'letter' | 'a4'
}

export type TaxFallsOn = 'order' | 'hand-over' | 'last-payment' | 'every-payment'

/** What a new shop starts with, wherever it is. */
export const STARTING_MONEY: MoneyFacts = {
  payPerHourMinor: null,
  payOfMaker: {},
  overheadYearMinor: null,
  handsOnHoursYear: null,
  consumablesShare: 100_000,
  remakesShare: 0,
  remakesBy: 'own-record',
  supplyPrices: {},
  profitKind: 'margin',
  profitRate: null,
  priceStepMinor: null,
  priceRounding: 'up',
  engravingMinor: null,
  inlayMinor: null,
  taxes: [],
  pricesIncludeTax: false,
  taxRoundedBy: 'paper',
  taxFallsOn: 'hand-over',
  cashStepMinor: 0,
  depositShare: null,
  depositStepMinor: null,
  quoteGoodDays: 30,
  simplifiedUpToMinor: null,
  accounting: 'cash',
  address: '',
  reach: '',
  taxNumber: '',
  terms: '',
  paperWords: {},
  paper: 'by-units',
}

/**
 * The most that a simplified invoice may be of in this shop; null: no limit.
 * @source Directive 2006/112/EC, Article 220a(1)(a): not higher than EUR 100 or the equivalent; a country may allow more (238(1)); both from memory
 */
export const simplifiedUpTo = ({ simplifiedUpToMinor }: MoneyFacts, { code, decimals }: Currency): number | null =>
  simplifiedUpToMinor ?? (code === 'EUR' ? 100 * 10 ** decimals : null)

/** What amounts go up to where the maker has not said it: five whole units. Common practice, no source. */
export const usualStep = ({ decimals }: Currency): number => 5 * 10 ** decimals
