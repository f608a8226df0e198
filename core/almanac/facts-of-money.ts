import { readPrice, typeMoney } from '../money/money.ts'
import { readRate, writeRate } from '../money/rate.ts'
import type { TaxRate } from '../money/sales-tax.ts'
import { PAPER_TITLES } from '../papers/paper.ts'
import { ownWordOf, PAPER_WORDS, withPaperWord } from '../papers/paper-words.ts'
import { ok } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { OWN, PRACTICE, type Slot } from './fact.ts'
import { readText, slotsOf } from './money-slots.ts'
import { FITTING_KINDS, readSupplyPrice } from '../timber/supply-price.ts'
import { readWhole } from './read-figures.ts'

/** What prices, taxes and papers go by. */
export const moneySlots = (almanac: Almanac): Slot[] => [
  ...priceSlots(almanac),
  ...supplyPriceSlots(almanac),
  ...taxSlots(almanac),
  ...paperSlots(almanac),
]

const NOT_YET = 'yours to say'

function priceSlots(almanac: Almanac): Slot[] {
  const { amount, share, step, choice, slot, set } = slotsOf(almanac, 'price')
  const { money, makers } = almanac
  const { currency } = almanac.shop
  return [
    amount('payPerHourMinor', 'Pay for an hour of hands-on work', NOT_YET),
    ...(makers.length < 2 ? [] : makers).map(({ id, name }) => {
      const minor = money.payOfMaker[id]
      return slot(
        `payOfMaker.${id}`,
        `Pay for an hour of ${name}`,
        'money',
        { value: minor === undefined ? '' : typeMoney(minor, currency), source: 'blank: the pay above' },
        (text) => {
          const { [id]: _, ...others } = money.payOfMaker
          if (text.trim() === '') return set(ok(null), () => ({ payOfMaker: others }))
          return set(readPrice(text, currency), (value) => ({ payOfMaker: { ...others, [id]: value } }))
        },
      )
    }),
    amount('overheadYearMinor', 'Overhead of a year', 'rent, insurance, power, wear, fairs, fees: yours to add up'),
    slot(
      'handsOnHoursYear',
      'Hands-on hours of a year',
      'count',
      {
        value: money.handsOnHoursYear === null ? '' : String(money.handsOnHoursYear),
        unit: 'h',
        source: 'without buying, selling, sweeping and quoting',
      },
      (text) =>
        set(
          text.trim() === '' ? ok(null) : readWhole(text, 'Hands-on hours of a year', 1, 10_000),
          (handsOnHoursYear) => ({
            handsOnHoursYear,
          }),
        ),
    ),
    share(
      'consumablesShare',
      'Glue, finish, abrasives',
      '10% of the other direct cost: Jones, Woodwork, December 2006',
    ),
    share('remakesShare', 'Kept back for remakes', `${PRACTICE}: what you expect before your log says it`),
    choice('remakesBy', 'Remakes go by', 'the share counts like 100 hours of your log', [
      { value: 'own-record', label: 'That share at first, then your log' },
      { value: 'typed', label: 'That share alone' },
    ]),
    choice('profitKind', 'Profit given as', PRACTICE, [
      { value: 'margin', label: 'Margin: a share of the price' },
      { value: 'mark-up', label: 'Mark-up: a share of the cost' },
    ]),
    share('profitRate', 'Profit', NOT_YET, { most: money.profitKind === 'margin' ? 90 : 500, canBeNone: true }),
    step('priceStepMinor', 'Round prices to', `${PRACTICE}: a round price is easy to say`),
    choice('priceRounding', 'Prices are rounded', PRACTICE, [
      { value: 'up', label: 'Up' },
      { value: 'nearest', label: 'To the nearest' },
    ]),
    amount('engravingMinor', 'Engraving adds, each piece', 'beside its hours: what the engraver asks, or what you do'),
    amount('inlayMinor', 'Inlay adds, each piece', 'beside its hours and its wood'),
    share('depositShare', 'Deposit', 'half down is usual: common practice, no source', { canBeNone: true }),
    step('depositStepMinor', 'Deposits go up to the next', PRACTICE),
  ]
}

/** What hardware, glue and finish cost; blank: not known, and left to the share of consumables. */
function supplyPriceSlots(almanac: Almanac): Slot[] {
  const { slot, set } = slotsOf(almanac, 'price')
  const { supplyPrices } = almanac.money
  const { currency, units } = almanac.shop
  const kinds = [
    ...FITTING_KINDS.map(({ id, label }) => ({ key: `fitting:${id}`, label, kind: 'hardware' as const })),
    ...almanac.glues.map(({ id, name }) => ({ key: id, label: name, kind: 'glue' as const })),
    ...almanac.finishes.map(({ id, name }) => ({ key: id, label: name, kind: 'finish' as const })),
  ]
  return kinds.map(({ key, label, kind }) => ({
    ...slot(
      `supplyPrice.${key}`,
      label,
      'text',
      { value: supplyPrices[key]?.typed ?? '', source: SUPPLY_EXAMPLE[kind] },
      (typed) =>
        set(readSupplyPrice(typed, kind, units, currency), (price) => {
          const { [key]: _, ...others } = supplyPrices
          return { supplyPrices: price === null ? others : { ...others, [key]: price } }
        }),
    ),
    about: SUPPLIES,
  }))
}

/** What the prices of supplies are about. */
export const SUPPLIES = 'Supplies'

const SUPPLY_EXAMPLE = {
  hardware: 'what was paid: 6 for 12, or 0.50 each',
  glue: 'what was paid: 24 for 16 oz',
  finish: 'what was paid: 30 for 1 qt',
} as const

const TAXES = [0, 1] as const

function taxSlots(almanac: Almanac): Slot[] {
  const { choice, step, slot, set } = slotsOf(almanac, 'tax')
  const { taxes } = almanac.money
  const LOCAL = 'your tax office says it; no rate is built in'
  const withTax = (index: number, change: Partial<TaxRate>): readonly TaxRate[] => {
    const all = TAXES.map((at) => taxes[at] ?? { id: `tax-${at + 1}`, name: '', rate: 0 })
    return all
      .map((tax, at) => (at === index ? { ...tax, ...change } : tax))
      .filter(({ name, rate }) => name !== '' || rate > 0)
  }
  return [
    ...TAXES.flatMap((index) => {
      const tax = taxes[index]
      const label = index === 0 ? 'Tax' : 'Second tax'
      return [
        slot(
          `tax${index + 1}.name`,
          `${label}: name on papers`,
          'text',
          { value: tax?.name ?? '', source: LOCAL },
          (text) => set(readText(text, label), (name) => ({ taxes: withTax(index, { name }) })),
        ),
        slot(
          `tax${index + 1}.rate`,
          `${label}: rate`,
          'share',
          { value: tax === undefined ? '' : writeRate(tax.rate), source: LOCAL },
          (text) => set(text.trim() === '' ? ok(0) : readRate(text), (rate) => ({ taxes: withTax(index, { rate }) })),
        ),
      ]
    }),
    choice('pricesIncludeTax', 'Prices are said', 'in the EU with tax to consumers (Directive 98/6/EC)', [
      { value: 'false', label: 'Without tax: it is added' },
      { value: 'true', label: 'With tax in them' },
    ]),
    choice('taxRoundedBy', 'Tax is rounded', "the seller's choice (Streamlined Sales and Use Tax Agreement, 324)", [
      { value: 'paper', label: 'Once for the whole paper' },
      { value: 'line', label: 'On each line' },
    ]),
    choice('taxFallsOn', 'Tax falls due on', LOCAL, [
      { value: 'order', label: 'The order' },
      { value: 'hand-over', label: 'The hand-over' },
      { value: 'last-payment', label: 'The last payment' },
      { value: 'every-payment', label: 'Every payment, in proportion' },
    ]),
    step('cashStepMinor', 'Cash is rounded to', '0: never; 0.05 where there are no cents'),
    choice('accounting', 'The year is reckoned by', 'IRS Publication 538: cash or accrual, chosen once', [
      { value: 'cash', label: 'Cash: when it is paid' },
      { value: 'accrual', label: 'Accrual: when it is handed over' },
    ]),
  ]
}

function paperSlots(almanac: Almanac): Slot[] {
  const { amount, choice, text, whole, slot, set } = slotsOf(almanac, 'papers')
  const { paperWords } = almanac.money
  return [
    text('address', 'Address on papers', 'long-text', OWN),
    text('reach', 'Phone or email on papers', 'text', OWN),
    text('taxNumber', 'Tax number on papers', 'text', OWN),
    whole(
      'quoteGoodDays',
      'Quotes are good for',
      'days',
      `${PRACTICE}; a signed offer binds three months at most (UCC 2-205)`,
      90,
    ),
    amount(
      'simplifiedUpToMinor',
      'Simplified invoices up to',
      'blank: 100 EUR (Directive 2006/112/EC, 220a, from memory), elsewhere any; local law decides',
    ),
    text('terms', 'Terms on papers', 'long-text', 'yours to say; a lawyer can look at them'),
    choice('paper', 'Paper', OWN, [
      { value: 'by-units', label: 'Letter with inches, A4 with mm' },
      { value: 'letter', label: 'US Letter' },
      { value: 'a4', label: 'A4' },
    ]),
    ...PAPER_WORDS.map((word) => ({
      ...slot(
        `paperWords.${word.kind}.${word.name}`,
        word.label,
        'long-text',
        { value: ownWordOf(word, paperWords), source: 'your own words' },
        (typed) => set(withPaperWord(word, paperWords, typed), (own) => ({ paperWords: own })),
      ),
      about: PAPER_TITLES[word.kind],
    })),
  ]
}
