import type { Almanac } from '../../core/almanac/almanac.ts'
import { usualStep, type MoneyFacts } from '../../core/almanac/money-facts.ts'
import type { ExtraLine } from '../../core/book/book.ts'
import type { Consumed, Fitting, Part } from '../../core/constructions/construction.ts'
import type { NetworkStep } from '../../core/constructions/step-network.ts'
import { hoursRange } from '../../core/money/hours-range.ts'
import { writeMoney } from '../../core/money/money.ts'
import { sum } from '../../core/money/exact.ts'
import {
  boughtIn,
  contributionOf,
  priceOf,
  reached,
  type Price,
  type PriceInput,
  type PriceLine,
} from '../../core/money/price.ts'
import { writeRate } from '../../core/money/rate.ts'
import { taxed, type Taxed, type TaxRules } from '../../core/money/sales-tax.ts'
import { sharedOut } from '../../core/money/shared-out.ts'
import { wasteInWords } from '../../core/almanac/read-wood-waste.ts'
import { woodEstimate } from '../../core/timber/wood-estimate.ts'
import type { Wording } from '../../core/time/write-instant.ts'
import { writeMinutes } from '../words.ts'
import { suppliesInPrice } from './supplies-in-price.ts'

/** How a price is built up, for a screen: every line with its reason. */
export interface PriceView {
  readonly lines: readonly { readonly label: string; readonly minor: number; readonly why: string }[]
  readonly costMinor: number
  /** What to ask by these facts, before tax where it is added. */
  readonly askedMinor: number
  /** For one of them, where the order is of several equal pieces; the first of those that cost a cent more. */
  readonly eachMinor: number | null
  /** What to ask if the hours go as they do in 4 of 5 cases. */
  readonly upToMinor: number
  /** What a price that was typed leaves: words for a line each; empty without one. */
  readonly leaves: readonly string[]
  /** What is not known yet, as sentences. */
  readonly missing: readonly string[]
  /** Hardware that has no price yet, and so is not in it. */
  readonly unpriced: readonly string[]
  /** With tax as the almanac has it, of the typed price or else of the asked one, extras included. */
  readonly taxed: Taxed
  readonly totalMinor: number
}

/** What is priced. */
export interface PricedWork {
  readonly parts: readonly Part[]
  readonly fittings: readonly Fitting[]
  readonly consumed: readonly Consumed[]
  readonly steps: readonly (Pick<NetworkStep, 'minutes' | 'optimisticMin' | 'pessimisticMin' | 'setUp'> & {
    /** Who does it, where that is known. */
    readonly who?: string | null
    readonly operation?: string
    readonly units?: NetworkStep['units']
  })[]
  /** Pieces, all of one kind; null: of several kinds. */
  readonly count: number | null
  readonly typedMinor: number | null
  readonly extraLines: readonly ExtraLine[]
  readonly untaxed: boolean
}

/** The price of an order by the facts of the almanac, and what the typed one leaves. */
export function priceOfWork(work: PricedWork, almanac: Almanac, { locale }: Wording): PriceView {
  const { money } = almanac
  const say = (minor: number): string => writeMoney(minor, almanac.shop.currency, locale)
  const setUps = work.steps.reduce((sum, { setUp }) => sum + (setUp?.minutes ?? 0), 0)
  const range = hoursRange(work.steps)
  const planned = work.steps.reduce((sum, { minutes }) => sum + minutes, 0) + setUps
  const price = priceFor(planned, work, almanac)
  const upTo = priceFor(Math.max(planned, range.fourInFive + setUps), work, almanac)
  const said = work.typedMinor ?? price.askedMinor
  const all = taxed(
    [
      { minor: said, taxed: !work.untaxed },
      ...work.extraLines.map((line) => ({ ...line, taxed: line.taxed && !work.untaxed })),
    ],
    taxRules(money),
  )
  return {
    lines: price.lines.map((line) => ({
      label: labelOf(line),
      minor: line.minor,
      why:
        line.kind === 'consumables' && suppliesInPrice(work, almanac).consumables.kind === 'priced'
          ? 'Glue and finish by their amounts, at the prices of the Almanac. Abrasives are overhead.'
          : whyOf(line, price, almanac, say),
    })),
    costMinor: price.costMinor,
    askedMinor: price.askedMinor,
    eachMinor:
      work.count === null || work.count < 2
        ? null
        : (sharedOut(
            said,
            Array.from({ length: work.count }, () => 1n),
          )[0] ?? null),
    upToMinor: upTo.askedMinor,
    leaves: work.typedMinor === null ? [] : leavesOf(work.typedMinor, price, money, say),
    missing: price.missing.map((what) => MISSING[what]),
    unpriced: suppliesInPrice(work, almanac).unpriced,
    taxed: all,
    totalMinor: all.totalMinor,
  }
}

/** What was bought for work of so many minutes: wood at the yard's prices, and the share for supplies. */
export const boughtFor = (
  work: Pick<PricedWork, 'parts' | 'fittings' | 'consumed'>,
  minutes: number,
  almanac: Almanac,
): number => boughtIn(priceFor(minutes, { ...work, steps: [] }, almanac))

export const taxRules = (money: MoneyFacts): TaxRules => ({
  taxes: money.taxes,
  included: money.pricesIncludeTax,
  roundedBy: money.taxRoundedBy,
})

type Bought = Pick<PricedWork, 'parts' | 'fittings' | 'consumed' | 'steps'>

function priceFor(minutes: number, work: Bought, almanac: Almanac): Price {
  const { money, allowances } = almanac
  const woods = woodEstimate(work.parts, allowances, almanac)
  const priced = woods.map(({ minor }) => minor)
  const { hardwareMinor, consumables } = suppliesInPrice(work, almanac)
  return priceOf({
    woodMinor: priced.some((minor) => minor === null)
      ? null
      : priced.reduce<number>((sum, minor) => sum + (minor ?? 0), 0),
    hardwareMinor,
    consumables,
    work: paidWork(minutes, work.steps, almanac),
    overhead:
      money.overheadYearMinor === null || money.handsOnHoursYear === null
        ? null
        : { yearMinor: money.overheadYearMinor, yearMinutes: money.handsOnHoursYear * 60 },
    remakes: money.remakesShare,
    profit: { kind: money.profitKind, rate: money.profitRate ?? 0 },
    options: optionsIn(work.steps, money),
    rounding: { stepMinor: money.priceStepMinor ?? usualStep(almanac.shop.currency) },
  })
}

/** What is charged by itself, by the steps that make it: each unit of such a step is a piece. */
function optionsIn(steps: PricedWork['steps'], money: MoneyFacts): PriceInput['options'] {
  return OPTIONS.flatMap(({ name, isMadeIn, price }) => {
    const each = money[price]
    const pieces = sum(steps.filter(isMadeIn).map(({ units }) => units?.count ?? 1))
    return each === null || each === 0 || pieces === 0 ? [] : [{ name, minor: each * pieces }]
  })
}

const OPTIONS: readonly {
  readonly name: string
  readonly isMadeIn: (step: PricedWork['steps'][number]) => boolean
  readonly price: 'engravingMinor' | 'inlayMinor'
}[] = [
  {
    name: 'Engraving',
    isMadeIn: ({ operation }) => operation === 'engrave' || operation === 'send-engraving',
    price: 'engravingMinor',
  },
  { name: 'Inlay', isMadeIn: ({ operation }) => operation === 'inlay', price: 'inlayMinor' },
]

/** The minutes by whose pay they cost: shared by what each does of the order; who has no pay of their own costs what an hour costs. */
function paidWork(minutes: number, steps: PricedWork['steps'], { money, makers }: Almanac): PriceInput['work'] {
  const own = makers.filter(({ id }) => money.payOfMaker[id] !== undefined)
  const weightOf = (does: (who: string | null) => boolean): bigint =>
    BigInt(sum(steps.filter(({ who = null }) => does(who)).map((step) => step.minutes + (step.setUp?.minutes ?? 0))))
  const shares = sharedOut(minutes, [
    weightOf((who) => !own.some(({ id }) => id === who)),
    ...own.map(({ id }) => weightOf((who) => who === id)),
  ])
  return [
    { who: '', minutes: shares[0] ?? 0, perHourMinor: money.payPerHourMinor },
    ...own.map(({ id, name }, index) => ({
      who: `${LABELS.labor}, ${name}`,
      minutes: shares[index + 1] ?? 0,
      perHourMinor: money.payOfMaker[id] ?? null,
    })),
  ].filter((each) => each.minutes > 0)
}

const MISSING: Readonly<Record<Price['missing'][number], string>> = {
  'wood-price': 'A wood has no price yet: Almanac, Lumberyard.',
  rate: 'No pay for an hour yet: Almanac, Prices.',
  overhead: 'No overhead yet: Almanac, Prices.',
}

const LABELS: Readonly<Record<PriceLine['kind'], string>> = {
  wood: 'Wood',
  hardware: 'Hardware',
  consumables: 'Glue, finish, abrasives',
  labor: 'Hands-on hours',
  overhead: 'Overhead',
  remakes: 'Kept back for remakes',
  profit: 'Profit',
  option: 'Option',
  rounding: 'Rounding up',
}

const labelOf = ({ kind, name }: PriceLine): string => (name === '' ? LABELS[kind] : name)

/** What an hour of a line of labor costs. */
function payOf({ name }: PriceLine, { money, makers }: Almanac): number {
  const maker = makers.find((each) => name === `${LABELS.labor}, ${each.name}`)
  return (maker === undefined ? money.payPerHourMinor : money.payOfMaker[maker.id]) ?? 0
}

function whyOf(line: PriceLine, price: Price, almanac: Almanac, say: (minor: number) => string): string {
  const { money, shop } = almanac
  switch (line.kind) {
    case 'wood':
      return `Every part as cut, ${wasteInWords(almanac)} of what is bought lost, at the lumberyard's prices.`
    case 'hardware':
      return 'By the piece, at the prices of the Almanac.'
    case 'consumables':
      return `${writeRate(money.consumablesShare)} of wood, hardware and hours.`
    case 'labor':
      return `${writeMinutes(line.minutes ?? 0)} with setups, at ${say(payOf(line, almanac))} an hour. Waits cost nothing.`
    case 'overhead':
      return `${say(money.overheadYearMinor ?? 0)} a year over ${money.handsOnHoursYear ?? 0} hands-on hours, for ${writeMinutes(price.minutes)}.`
    case 'remakes':
      return `${writeRate(money.remakesShare)} of the cost so far.`
    case 'profit': {
      const { margin, markUp } = reached(price.costMinor + line.minor, price.costMinor)
      return `A margin of ${percent(margin)} of the price is a mark-up of ${percent(markUp)} on the cost.`
    }
    case 'option':
      return 'Charged by itself.'
    case 'rounding':
      return `Up to the next ${say(money.priceStepMinor ?? usualStep(shop.currency))}.`
  }
}

function leavesOf(
  typedMinor: number,
  price: Price,
  money: MoneyFacts,
  say: (minor: number) => string,
): readonly string[] {
  const { margin } = reached(typedMinor, price.costMinor)
  const left = contributionOf(typedMinor, boughtIn(price), price.minutes)
  const hour = left.perHourMinor
  return [
    ...(hour === null ? [] : [`${say(hour)} a hands-on hour after wood and supplies.`]),
    ...(money.payPerHourMinor === null || margin === null
      ? []
      : [
          typedMinor < price.costMinor
            ? `${say(price.costMinor - typedMinor)} below cost.`
            : `${percent(margin)} margin.`,
        ]),
  ]
}

const percent = (rate: number | null): string => (rate === null ? '0%' : `${Math.round(rate / 1000) / 10}%`)
