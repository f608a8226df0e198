import { randomUUID } from 'node:crypto'
import { type EnteredMoney, type EnteredKind, type MoneyEntry, paidIn, type PaidHow } from '../../core/money/ledger.ts'
import { cashDifference } from '../../core/money/sales-tax.ts'
import { readMoney, writeMoney } from '../../core/money/money.ts'
import { MONEY_WORDS } from '../../core/money/money-words.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { isLocalDay } from '../../core/time/local-day.ts'
import type { Commission } from '../../core/book/book.ts'
import { commissionById } from '../../db/commissions.ts'
import { enterMoney, moneyOf } from '../../db/money.ts'
import { moneyStandingOf } from './order-money.ts'
import { momentsOf } from './work-of-canceled.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'

/** Money as it is typed in at an order. */
export interface MoneyInput {
  readonly kind: Exclude<EnteredKind, 'cash-rounding'>
  readonly amount: string
  readonly how: PaidHow
  /** Empty: today. */
  readonly day: string
  readonly reference: string
}

/** Writes down that money changed hands. */
export async function enterPayment(shop: OpenShop, commissionId: string, input: MoneyInput): Promise<Result<Moved>> {
  const { currency } = shop.almanac.shop
  const today = shop.moment().today
  const order = await commissionById(shop.db, commissionId)
  if (order === null) return failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
  const amount = readMoney(input.amount, currency)
  const day = input.day.trim() === '' ? today : input.day.trim()
  const problems = [
    ...(amount.ok
      ? amount.value > 0
        ? []
        : [problem('amount', 'Type more than zero, like 50, or choose Given back.', 'amount')]
      : amount.problems.map((each) => ({ ...each, field: 'amount' }))),
    ...(!isLocalDay(day)
      ? [problem('day', 'Enter a day like 2026-12-12.', 'day')]
      : day > today
        ? [problem('future', 'That day is still to come: enter today or earlier.', 'day')]
        : []),
  ]
  if (problems.length > 0 || !amount.ok) return failed(...problems)
  const known = await moneyOf(shop.db, [commissionId])
  const paidMinor = paidIn(known)
  const say = (minor: number): string => writeMoney(minor, currency, shop.locale)
  if (input.kind === 'refund' && amount.value > paidMinor) {
    return failed(problem('too-much', `Only ${say(paidMinor)} was paid: enter that or less.`, 'amount'))
  }
  const owed = await owedOn(shop, order.commission, known)
  if (input.kind === 'write-off' && amount.value > owed) {
    return failed(problem('too-much', `Only ${say(Math.max(0, owed))} is owed: enter that or less.`, 'amount'))
  }
  const entry: EnteredMoney = {
    id: randomUUID(),
    commissionId,
    atMs: shop.nowMs,
    day,
    kind: input.kind,
    minor: amount.value,
    how: input.how,
    reference: input.reference.trim(),
    takesBack: null,
  }
  const left = owed - entry.minor
  const coin = cashRounding(entry, left, shop.almanac.money.cashStepMinor)
  return shop.change(async (db) => {
    await enterMoney(db, [entry, ...coin], 'money-entered', { atMs: shop.nowMs, makerId: null })
    return ok(`${MONEY_WORDS[entry.kind]}: ${say(entry.minor)}, No. ${order.commission.number}.`)
  })
}

/** What an order owes now, open or closed. */
async function owedOn(shop: OpenShop, commission: Commission, known: readonly MoneyEntry[]): Promise<number> {
  const momentFor = await momentsOf(shop, [commission], new Map([[commission.id, known]]))
  return moneyStandingOf(commission, known, momentFor(commission)).owedMinor
}

/** What the smallest coin leaves over when the whole balance is paid in cash: a line of its own, the tax stays as it is. */
function cashRounding(entry: EnteredMoney, leftMinor: number, stepMinor: number): readonly EnteredMoney[] {
  const balance = leftMinor + entry.minor
  const paysAll = entry.kind === 'payment' && entry.how === 'cash' && leftMinor !== 0
  return paysAll && entry.minor === balance + cashDifference(balance, stepMinor)
    ? [{ ...entry, id: randomUUID(), kind: 'cash-rounding', minor: leftMinor, reference: '' }]
    : []
}

/** Puts an entry right by another one that takes it back: nothing is changed, nothing is removed. */
export async function takeBackMoney(shop: OpenShop, entryId: string, commissionId: string): Promise<Result<Moved>> {
  const entries = await moneyOf(shop.db, [commissionId])
  const entry = entries.find(({ id }) => id === entryId)
  if (entry === undefined) return failed(problem('unknown-entry', 'This order has no such payment.', 'entryId'))
  if (entry.takesBack !== null || entries.some(({ takesBack }) => takesBack === entryId)) {
    return failed(problem('already-taken-back', 'That is corrected already.', 'entryId'))
  }
  const left = entries.filter(({ id }) => id !== entryId)
  if (paidIn(left) < 0) {
    return failed(problem('given-back', 'More was given back than would be left: correct that first.', 'entryId'))
  }
  const { kind } = entry
  if (kind === 'credit')
    return failed(problem('issued', 'A credit note stays. Issue a new invoice instead.', 'entryId'))
  const counter: EnteredMoney = { ...entry, kind, id: randomUUID(), atMs: shop.nowMs, takesBack: entry.id }
  return shop.change(async (db) => {
    await enterMoney(db, [counter], 'money-taken-back', { atMs: shop.nowMs, makerId: null })
    return ok(
      `Correct: ${MONEY_WORDS[entry.kind].toLowerCase()} ${writeMoney(entry.minor, shop.almanac.shop.currency, shop.locale)}.`,
    )
  })
}
