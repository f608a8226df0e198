import type { TaxFallsOn } from '../almanac/money-facts.ts'
import { rounded, sum } from '../money/exact.ts'
import { standingEntries, type MoneyEntry } from '../money/ledger.ts'
import type { Taxed } from '../money/sales-tax.ts'
import type { LocalDay } from '../time/local-day.ts'

/** An order as the year looks at it. */
export interface YearOrder {
  readonly id: string
  readonly number: number
  readonly customer: string
  /** Lines, tax and total; null: no price. */
  readonly bill: Taxed | null
  /** Civil days; null: not yet, or never. */
  readonly agreedOn: LocalDay | null
  readonly handedOverOn: LocalDay | null
  readonly calledOffOn: LocalDay | null
}

/** Tax that fell due on a day. */
export interface TaxDue {
  readonly day: LocalDay
  readonly name: string
  /** Parts per million. */
  readonly rate: number
  readonly baseMinor: number
  readonly minor: number
}

/** A payment or a refund, with the tax that is in it; a refund is less than nothing. */
export interface Receipt {
  readonly day: LocalDay
  readonly how: MoneyEntry['how']
  readonly minor: number
  readonly taxMinor: number
}

/**
 * What was received for one order and given back, oldest first, each with the tax in it in proportion. Worked out on the running
 * total, so that the parts add up to the whole tax to the last minor unit.
 */
export function receiptsOf({ bill }: YearOrder, entries: readonly MoneyEntry[]): Receipt[] {
  let paid = 0
  return inOrder(entries).map(({ day, how, kind, minor }) => {
    const signed = kind === 'payment' ? minor : -minor
    const before = partOf(paid, bill, bill?.taxMinor ?? 0)
    paid += signed
    return { day, how, minor: signed, taxMinor: partOf(paid, bill, bill?.taxMinor ?? 0) - before }
  })
}

/**
 * When the tax of an order falls due, by the rule of the almanac. An order that was called off owes tax only on what had fallen due
 * with its payments.
 * @source the rules differ: at hand-over (Washington DOR), at the sale or its payment (Maryland COMAR 03.06.01.21), on each payment
 *   as received (Directive 2006/112/EC, Article 65)
 */
export function taxDueFor(order: YearOrder, entries: readonly MoneyEntry[], on: TaxFallsOn): TaxDue[] {
  const { bill } = order
  if (bill === null || bill.taxes.length === 0) return []
  if (on === 'every-payment') return taxOfEachPayment(bill, entries)
  if (order.calledOffOn !== null) return []
  const day =
    on === 'order' ? order.agreedOn : on === 'hand-over' ? order.handedOverOn : dayPaidInFull(bill.totalMinor, entries)
  return day === null
    ? []
    : bill.taxes.map(({ name, rate, baseMinor, minor }) => ({ day, name, rate, baseMinor, minor }))
}

function taxOfEachPayment(bill: Taxed, entries: readonly MoneyEntry[]): TaxDue[] {
  let paid = 0
  return inOrder(entries).flatMap(({ day, kind, minor }) => {
    const before = paid
    paid += kind === 'payment' ? minor : -minor
    return bill.taxes.map(({ name, rate, ...tax }) => ({
      day,
      name,
      rate,
      baseMinor: partOf(paid, bill, tax.baseMinor) - partOf(before, bill, tax.baseMinor),
      minor: partOf(paid, bill, tax.minor) - partOf(before, bill, tax.minor),
    }))
  })
}

/** The day on which everything was paid (or written off) at last; null: it is not. */
function dayPaidInFull(totalMinor: number, entries: readonly MoneyEntry[]): LocalDay | null {
  const counted = standingEntries(entries).filter(({ kind }) => kind !== 'tip')
  const left = totalMinor - sum(counted.map(({ kind, minor }) => (kind === 'refund' ? -minor : minor)))
  const last = counted.toSorted((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0)).at(-1)
  return left <= 0 && last !== undefined ? last.day : null
}

const inOrder = (entries: readonly MoneyEntry[]): MoneyEntry[] =>
  standingEntries(entries)
    .filter(({ kind }) => kind === 'payment' || kind === 'refund')
    .toSorted((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0))

/** What is in this much of the total, never more than the whole: what is paid beyond it is owed back. */
const partOf = (paidMinor: number, bill: Taxed | null, wholeMinor: number): number =>
  bill === null || bill.totalMinor === 0
    ? 0
    : rounded(BigInt(Math.min(paidMinor, bill.totalMinor)) * BigInt(wholeMinor), BigInt(bill.totalMinor))
