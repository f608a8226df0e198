import type { MoneyFacts } from '../almanac/money-facts.ts'
import { rounded, sum } from '../money/exact.ts'
import { PAID_HOW, standingEntries, type MoneyEntry, type PaidHow } from '../money/ledger.ts'
import { overheadFor } from '../money/overhead.ts'
import type { LocalDay } from '../time/local-day.ts'
import { goodsSold, type GoodsSold, type YearBoard, type YearFigures } from './goods-sold.ts'
import type { YearSupply } from './supplies-in-year.ts'
import { receiptsOf, taxDueFor, type TaxDue, type YearOrder } from './tax-falls.ts'

/** Hands-on minutes of one civil day at one order. */
export interface YearWork {
  readonly day: LocalDay
  readonly minutes: number
}

/** A piece that was handed over, with what it brought. */
export interface PieceSold {
  readonly construction: string
  readonly count: number
  /** Its share of the price before tax, and of what was bought for it. */
  readonly netMinor: number
  readonly boughtMinor: number
  readonly minutes: number
  /** The log has the hours of nearly all of its work, so that they say what an hour brought. */
  readonly hoursKnown: boolean
}

export interface YearInput {
  readonly year: number
  readonly money: Pick<MoneyFacts, 'accounting' | 'taxFallsOn' | 'overheadYearMinor' | 'handsOnHoursYear'>
  readonly orders: readonly YearOrder[]
  readonly entries: readonly MoneyEntry[]
  /** Credit notes of the year, before tax and the taxes that they take back. */
  readonly credits: readonly {
    readonly day: LocalDay
    readonly netMinor: number
    readonly taxes: readonly Omit<TaxDue, 'day'>[]
  }[]
  readonly work: readonly YearWork[]
  readonly sold: readonly PieceSold[]
  readonly boards: readonly YearBoard[]
  /** What is counted of glue, finish and hardware. */
  readonly supplies: readonly YearSupply[]
  readonly typed: YearFigures
}

/** One month, or all twelve together. */
export interface YearMonth {
  /** Payments and tips. */
  readonly receivedMinor: number
  readonly givenBackMinor: number
  /** Tax in what was received, less that in what was given back. */
  readonly taxMinor: number
  /** What counts as income in it: by what was paid, or by what was handed over. */
  readonly incomeMinor: number
  readonly minutes: number
}

/** What an hour brought at one construction, of what was handed over in the year and whose hours are known. */
export interface EarnedBy {
  readonly construction: string
  readonly pieces: number
  readonly minutes: number
  /** Price before tax less what was bought for it. */
  readonly earnedMinor: number
  /** Null: of none the hours are known. */
  readonly perHourMinor: number | null
  /** Pieces whose hours are not known, and what they earned: in no other figure. */
  readonly leftOut: { readonly pieces: number; readonly earnedMinor: number }
}

export interface Year {
  readonly year: number
  readonly accounting: MoneyFacts['accounting']
  /** January first. */
  readonly months: readonly YearMonth[]
  readonly total: YearMonth
  readonly byHow: readonly { readonly how: PaidHow; readonly minor: number }[]
  /** Tax that fell due in the year, by name and rate. */
  readonly taxes: readonly Omit<TaxDue, 'day'>[]
  readonly tipsMinor: number
  /** Paid by the end of the year for orders that were not handed over by then. */
  readonly depositsHeldMinor: number
  /** Lines 1 to 4 of Schedule C. */
  readonly grossMinor: number
  readonly returnsMinor: number
  readonly goods: GoodsSold
  readonly earned: readonly EarnedBy[]
  /** Overhead that the hours of the year carry by the almanac, and what was really spent; null: not known. */
  readonly overhead: { readonly appliedMinor: number | null; readonly spentMinor: number | null }
}

/** What was received, owed and earned in a year: no press at the bench moves any of it. */
export interface YearInMoney extends Omit<Year, 'months' | 'total' | 'goods' | 'overhead'> {
  readonly months: readonly Omit<YearMonth, 'minutes'>[]
  readonly total: Omit<YearMonth, 'minutes'>
}

/**
 * A shop's year in money.
 * @source cash and accrual: IRS Publication 538; lines 1, 2 and 4 of Schedule C: Publication 334, chapters 5 and 6 (sales tax that is
 *   collected is no income)
 */
export function moneyOfYear(
  input: Pick<YearInput, 'year' | 'money' | 'orders' | 'entries' | 'credits' | 'sold'>,
): YearInMoney {
  const { year, money, orders, entries } = input
  const inYear = (day: LocalDay | null): day is LocalDay => day?.startsWith(`${year}-`) === true
  const byOrder = Map.groupBy(entries, ({ commissionId }) => commissionId)
  const entriesFor = (order: YearOrder): readonly MoneyEntry[] => byOrder.get(order.id) ?? []
  const receipts = orders.flatMap((order) => receiptsOf(order, entriesFor(order))).filter(({ day }) => inYear(day))
  const tips = standingEntries(entries).filter(({ kind, day }) => kind === 'tip' && inYear(day))
  const handedOver = orders.filter(({ handedOverOn }) => inYear(handedOverOn))
  const credits = input.credits.filter(({ day }) => inYear(day))
  const byCash = money.accounting === 'cash'
  const monthOf = (month: number | null): Omit<YearMonth, 'minutes'> => {
    const keep = (day: LocalDay): boolean => month === null || monthIn(day) === month
    const here = receipts.filter(({ day }) => keep(day))
    const tipped = sum(tips.filter(({ day }) => keep(day)).map(({ minor }) => minor))
    const receivedMinor = sum(here.filter(({ minor }) => minor > 0).map(({ minor }) => minor)) + tipped
    const givenBackMinor = sum(here.filter(({ minor }) => minor < 0).map(({ minor }) => -minor))
    const taxMinor = sum(here.map((each) => each.taxMinor))
    const sold = handedOver.filter(({ handedOverOn }) => handedOverOn !== null && keep(handedOverOn))
    const credited = sum(credits.filter(({ day }) => keep(day)).map(({ netMinor }) => netMinor))
    return {
      ...{ receivedMinor, givenBackMinor, taxMinor },
      incomeMinor: byCash
        ? receivedMinor - givenBackMinor - taxMinor
        : sum(sold.map(({ bill }) => bill?.netMinor ?? 0)) + tipped - credited,
    }
  }
  const total = monthOf(null)
  const back = receipts.filter(({ minor }) => minor < 0)
  const returnsMinor = byCash
    ? sum(back.map(({ minor, taxMinor }) => taxMinor - minor))
    : sum(credits.map(({ netMinor }) => netMinor))
  const taxes = [
    ...orders.flatMap((order) => taxDueFor(order, entriesFor(order), money.taxFallsOn)),
    ...credits.flatMap(({ day, taxes: credited }) =>
      credited.map((tax) => ({ ...tax, day, baseMinor: -tax.baseMinor, minor: -tax.minor })),
    ),
  ].filter(({ day }) => inYear(day))
  return {
    year,
    accounting: money.accounting,
    months: Array.from({ length: 12 }, (_, month) => monthOf(month)),
    total,
    byHow: PAID_HOW.map((how) => ({
      how,
      minor: sum([...receipts, ...tips].filter((each) => each.how === how).map(({ minor }) => minor)),
    })).filter(({ minor }) => minor !== 0),
    taxes: together(taxes),
    tipsMinor: sum(tips.map(({ minor }) => minor)),
    depositsHeldMinor: sum(orders.map((order) => heldAtEnd(order, entriesFor(order), `${year}-12-31`))),
    grossMinor: total.incomeMinor + returnsMinor,
    returnsMinor,
    earned: earnedBy(input.sold),
  }
}

/** The year with the hours that were worked in it, and with what its goods cost. */
export function yearOf(
  inMoney: YearInMoney,
  { money, work, boards, supplies, typed }: Pick<YearInput, 'money' | 'work' | 'boards' | 'supplies' | 'typed'>,
): Year {
  const { year } = inMoney
  // A year of work has tens of thousands of stretches: they are gone through once, not for each month.
  const minutesByMonth = Array.from({ length: 12 }, () => 0)
  for (const { day, minutes } of work) if (day.startsWith(`${year}-`)) minutesByMonth[monthIn(day)]! += minutes
  const minutes = sum(minutesByMonth)
  return {
    ...inMoney,
    months: inMoney.months.map((month, at) => ({ ...month, minutes: minutesByMonth[at]! })),
    total: { ...inMoney.total, minutes },
    goods: goodsSold(year, boards, supplies, typed),
    overhead: {
      appliedMinor:
        money.overheadYearMinor === null || money.handsOnHoursYear === null
          ? null
          : overheadFor(minutes, { yearMinor: money.overheadYearMinor, yearMinutes: money.handsOnHoursYear * 60 }),
      spentMinor: typed['overhead-spent'] ?? null,
    },
  }
}

/** Month of a day, January 0. */
const monthIn = (day: LocalDay): number => Number(day.slice(5, 7)) - 1

/** Paid by the end of a day for an order that is neither handed over nor called off by then. */
function heldAtEnd(order: YearOrder, entries: readonly MoneyEntry[], end: LocalDay): number {
  const over = [order.handedOverOn, order.calledOffOn].some((day) => day !== null && day <= end)
  return over
    ? 0
    : sum(
        receiptsOf(order, entries)
          .filter(({ day }) => day <= end)
          .map(({ minor }) => minor),
      )
}

function together(taxes: readonly TaxDue[]): Omit<TaxDue, 'day'>[] {
  const groups = Map.groupBy(taxes, ({ name, rate }) => `${rate} ${name}`)
  return [...groups.values()].flatMap((group) => {
    const [first] = group
    if (first === undefined) return []
    const { name, rate } = first
    return [
      { name, rate, baseMinor: sum(group.map((each) => each.baseMinor)), minor: sum(group.map((each) => each.minor)) },
    ]
  })
}

function earnedBy(sold: readonly PieceSold[]): EarnedBy[] {
  const piecesIn = (pieces: readonly PieceSold[]): number => sum(pieces.map(({ count }) => count))
  const earnedWith = (pieces: readonly PieceSold[]): number =>
    sum(pieces.map(({ netMinor, boughtMinor }) => netMinor - boughtMinor))
  return [...Map.groupBy(sold, ({ construction }) => construction)]
    .map(([construction, all]) => {
      const known = all.filter(({ hoursKnown }) => hoursKnown)
      const unknown = all.filter(({ hoursKnown }) => !hoursKnown)
      const minutes = sum(known.map((piece) => piece.minutes))
      const earnedMinor = earnedWith(known)
      return {
        construction,
        pieces: piecesIn(known),
        minutes,
        earnedMinor,
        perHourMinor: minutes === 0 ? null : rounded(BigInt(earnedMinor) * 60n, BigInt(minutes)),
        leftOut: { pieces: piecesIn(unknown), earnedMinor: earnedWith(unknown) },
      }
    })
    .toSorted((a, b) => (b.perHourMinor ?? -Infinity) - (a.perHourMinor ?? -Infinity))
}
