import type { Almanac } from '../../core/almanac/almanac.ts'
import { usualStep, type MoneyFacts } from '../../core/almanac/money-facts.ts'
import type { ExtraLine } from '../../core/book/book.ts'
import type { NetworkStep } from '../../core/constructions/step-network.ts'
import { hoursRange } from '../../core/money/hours-range.ts'
import { writeMoney } from '../../core/money/money.ts'
import { sum } from '../../core/money/exact.ts'
import { boughtIn, contributionOf, priceOf, type Price, type PriceInput } from '../../core/money/price.ts'
import { remakeShare, type RemakeRecord } from '../../core/money/remake-reserve.ts'
import type { Ppm } from '../../core/money/rate.ts'
import { taxed, type Taxed, type TaxRules } from '../../core/money/sales-tax.ts'
import { sharedOut } from '../../core/money/shared-out.ts'
import { woodEstimate } from '../../core/timber/wood-estimate.ts'
import type { Wording } from '../../core/time/write-instant.ts'
import type { BuiltPiece } from '../built-piece.ts'
import { labelOf, LABELS, leavesOf, MISSING, whyOf } from './price-words.ts'
import { suppliesInPrice } from './supplies-in-price.ts'

/** How a price is built up, for a screen: every line with its reason. */
export interface PriceView {
  readonly lines: readonly { readonly label: string; readonly minor: number; readonly why: string }[]
  readonly costMinor: number
  /** What to ask by these facts, before tax where it is added. */
  readonly askedMinor: number
  /** For one of them, where the order is of several equal pieces and a price is known; the first of those that cost a cent more. */
  readonly eachMinor: number | null
  /** What each piece of a mixed order is of it, by what it costs; empty for an order of one kind. */
  readonly byPiece: readonly { readonly title: string; readonly count: number; readonly minor: number }[]
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

/** Work as far as its price asks. */
export type PricedStep = Pick<NetworkStep, 'minutes' | 'optimisticMin' | 'pessimisticMin' | 'setUp'> & {
  /** Who does it, where that is known. */
  readonly who?: string | null
  readonly operation?: string
  readonly units?: NetworkStep['units']
}

/** What goes into some of an order. */
interface Made extends BuiltPiece {
  readonly steps: readonly PricedStep[]
}

export interface PricedPiece extends Made {
  readonly title: string
  readonly count: number
}

/** What is priced. */
export interface PricedWork {
  readonly pieces: readonly PricedPiece[]
  /** The customer brings it: no charge. */
  readonly ownWood: boolean
  readonly typedMinor: number | null
  readonly extraLines: readonly ExtraLine[]
  readonly untaxed: boolean
}

/** What a price goes by. */
export interface PricedBy {
  readonly almanac: Almanac
  readonly wording: Wording
  /** The shop's own record of remakes. */
  readonly remakes: RemakeRecord
}

/** The price of an order by the facts of the almanac, and what the typed one leaves. */
export function priceOfWork(work: PricedWork, { almanac, wording, remakes }: PricedBy): PriceView {
  const { money } = almanac
  const { locale } = wording
  const share = money.remakesBy === 'typed' ? money.remakesShare : remakeShare(money.remakesShare, remakes)
  const say = (minor: number): string => writeMoney(minor, almanac.shop.currency, locale)
  const all = allOf(work)
  const setUps = all.steps.reduce((sum, { setUp }) => sum + (setUp?.minutes ?? 0), 0)
  const range = hoursRange(all.steps)
  const planned = plannedMinutes(all.steps)
  const price = priceFor(planned, all, work, almanac, share)
  const upTo = priceFor(Math.max(planned, range.fourInFive + setUps), all, work, almanac, share)
  const supplies = suppliesInPrice(all, almanac)
  const count = work.pieces.length === 1 ? (work.pieces[0]?.count ?? 1) : 1
  const said = work.typedMinor ?? price.askedMinor
  const bill = taxed(
    [
      { minor: said, taxed: !work.untaxed },
      ...work.extraLines.map((line) => ({ ...line, taxed: line.taxed && !work.untaxed })),
    ],
    taxRules(money),
  )
  const lines = price.lines.map((line) => ({
    label: labelOf(line),
    minor: line.minor,
    why:
      line.kind === 'consumables' && supplies.consumables.kind === 'priced'
        ? 'Glue and finish by their amounts, at the prices of the Almanac. Abrasives are overhead.'
        : whyOf(line, price, { almanac, record: remakes, share, say }),
  }))
  return {
    lines: work.ownWood
      ? [{ label: LABELS.wood, minor: 0, why: 'The customer’s own lumber: no charge.' }, ...lines]
      : lines,
    costMinor: price.costMinor,
    askedMinor: price.askedMinor,
    eachMinor:
      count < 2 || (work.typedMinor === null && price.missing.length > 0)
        ? null
        : (sharedOut(
            said,
            Array.from({ length: count }, () => 1n),
          )[0] ?? null),
    byPiece: byPiece(said, work, almanac),
    upToMinor: upTo.askedMinor,
    leaves: work.typedMinor === null ? [] : leavesOf(netOf(work.typedMinor, work, almanac), price, money, say),
    missing: price.missing.map((what) => MISSING[what]),
    unpriced: supplies.unpriced,
    taxed: bill,
    totalMinor: bill.totalMinor,
  }
}

/** A price that was said, without the tax that is in it. */
const netOf = (minor: number, { untaxed }: Pick<PricedWork, 'untaxed'>, { money }: Almanac): number =>
  taxed([{ minor, taxed: !untaxed }], taxRules(money)).netMinor

const allOf = ({ pieces }: PricedWork): Made => ({
  parts: pieces.flatMap(({ parts }) => parts),
  fittings: pieces.flatMap(({ fittings }) => fittings),
  consumed: pieces.flatMap(({ consumed }) => consumed),
  steps: pieces.flatMap(({ steps }) => steps),
})

function byPiece(saidMinor: number, work: PricedWork, almanac: Almanac): PriceView['byPiece'] {
  const { pieces } = work
  if (pieces.length < 2) return []
  const costs = pieces.map((piece) => BigInt(priceFor(plannedMinutes(piece.steps), piece, work, almanac).costMinor))
  const shares = sharedOut(saidMinor, costs)
  return pieces.map(({ title, count }, index) => ({ title, count, minor: shares[index] ?? 0 }))
}

const plannedMinutes = (steps: readonly PricedStep[]): number =>
  sum(steps.map(({ minutes, setUp }) => minutes + (setUp?.minutes ?? 0)))

/** What an order leaves by the hands-on hour over what is bought for it, before tax; null while it, or its wood, has no price, or it no hours. */
export function leftByHour(work: PricedWork, almanac: Almanac): number | null {
  if (work.typedMinor === null) return null
  const all = allOf(work)
  const price = priceFor(plannedMinutes(all.steps), all, work, almanac)
  if (price.missing.includes('wood-price')) return null
  return contributionOf(netOf(work.typedMinor, work, almanac), boughtIn(price), price.minutes).perHourMinor
}

/** What was bought for work of so many minutes: wood at the yard's prices, and the share for supplies. */
export const boughtFor = (
  built: BuiltPiece,
  minutes: number,
  { ownWood }: Pick<PricedWork, 'ownWood'>,
  almanac: Almanac,
): number => boughtIn(priceFor(minutes, { ...built, steps: [] }, { ownWood, untaxed: true }, almanac))

export const taxRules = (money: MoneyFacts): TaxRules => ({
  taxes: money.taxes,
  included: money.pricesIncludeTax,
  roundedBy: money.taxRoundedBy,
})

function priceFor(
  minutes: number,
  made: Made,
  { ownWood, untaxed }: Pick<PricedWork, 'ownWood' | 'untaxed'>,
  almanac: Almanac,
  remakes: Ppm = almanac.money.remakesShare,
): Price {
  const { money, allowances } = almanac
  const woods = ownWood ? [] : woodEstimate(made.parts, allowances, almanac)
  const priced = woods.map(({ minor }) => minor)
  const { hardwareMinor, consumables } = suppliesInPrice(made, almanac)
  return priceOf({
    woodMinor: priced.some((minor) => minor === null)
      ? null
      : priced.reduce<number>((sum, minor) => sum + (minor ?? 0), 0),
    hardwareMinor,
    consumables,
    work: paidWork(minutes, made.steps, almanac),
    overhead:
      money.overheadYearMinor === null || money.handsOnHoursYear === null
        ? null
        : { yearMinor: money.overheadYearMinor, yearMinutes: money.handsOnHoursYear * 60 },
    remakes,
    profit: { kind: money.profitKind, rate: money.profitRate ?? 0 },
    options: optionsIn(made.steps, money),
    taxInside: money.pricesIncludeTax && !untaxed ? sum(money.taxes.map(({ rate }) => rate)) : 0,
    rounding: { stepMinor: money.priceStepMinor ?? usualStep(almanac.shop.currency), to: money.priceRounding },
  })
}

/** What is charged by itself, by the steps that make it: each unit of such a step is a piece. */
function optionsIn(steps: readonly PricedStep[], money: MoneyFacts): PriceInput['options'] {
  return OPTIONS.flatMap(({ name, isMadeIn, price }) => {
    const each = money[price]
    const pieces = sum(steps.filter(isMadeIn).map(({ units }) => units?.count ?? 1))
    return each === null || each === 0 || pieces === 0 ? [] : [{ name, minor: each * pieces }]
  })
}

const OPTIONS: readonly {
  readonly name: string
  readonly isMadeIn: (step: PricedStep) => boolean
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
function paidWork(minutes: number, steps: readonly PricedStep[], { money, makers }: Almanac): PriceInput['work'] {
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
