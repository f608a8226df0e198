import { readPrice, writeMoney } from '../../core/money/money.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { localDay } from '../../core/time/local-day.ts'
import type { YearFigure, YearFigures } from '../../core/year/goods-sold.ts'
import { agedDues, type Due } from '../../core/year/owed.ts'
import { accountOf, type AccountLine } from '../../core/year/schedule-c.ts'
import type { Year } from '../../core/year/year.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { Commission } from '../../core/book/book.ts'
import type { MoneyStanding } from '../../core/money/ledger.ts'
import { lastEntryId, ordersSince } from '../../db/log.ts'
import { commissionsOf, everyCommission } from '../../db/order-lists.ts'
import { type MoneyByOrder, moneyByOrder } from '../money/order-rows-money.ts'
import { firstAgreedMs } from '../../db/orders-in-year.ts'
import { keepYearFigure } from '../../db/year-figures.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import { moneyStandingOf } from '../money/order-money.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { yearOrders, yearRead } from './year-input.ts'
import type { Moved } from '../moved.ts'

export interface YearView extends Year {
  /** Years with an order in them, the newest first. */
  readonly years: readonly number[]
  /** Its last day is over. */
  readonly isOver: boolean
  readonly account: readonly AccountLine[]
  readonly typed: YearFigures
  /** Orders whose tax is worked out by today's rates, because no invoice says another. */
  readonly withoutInvoice: number
}

/** The year of a shop, whichever is asked for. */
export async function yearView(shop: OpenShop, asked: number | null): Promise<YearView> {
  const today = shop.moment().today
  const present = Number(today.slice(0, 4))
  const { year, typed, withoutInvoice } = await yearRead(shop, asked ?? present)
  const firstMs = await keptUntilMore(shop, 'first agreed', [], () => firstAgreedMs(shop.db))
  const first = firstMs === null ? present : Math.min(present, yearAt(firstMs, shop))
  return {
    ...year,
    years: Array.from({ length: present - first + 1 }, (_, index) => present - index),
    isOver: today > `${year.year}-12-31`,
    account: accountOf(year),
    typed,
    withoutInvoice: year.taxes.length === 0 ? 0 : withoutInvoice,
  }
}

const yearAt = (ms: number, { almanac }: OpenShop): number =>
  Number(localDay(Math.floor(ms / 60_000), almanac.shop.timeZone).slice(0, 4))

/** What is owed to the shop today, by how long. */
export type OwedView = ReturnType<typeof agedDues>

/**
 * Deposits that were asked and not paid, since the order; balances of what is ready, since then, or was handed over.
 */
export async function owedView(shop: OpenShop): Promise<OwedView> {
  const moment = shop.moment()
  const { commissions } = moment.book
  const open = owingOf(moment, commissions, await moneyByOrder(shop.db, commissions))
  const owing = new Map([...(await closedOwing(shop)), ...open])
  // What else is known of an order is read for those alone that owe something: after years few of them do.
  const dues = (await yearOrders(shop, [...owing.keys()])).flatMap(({ commission, order }): Due[] => {
    const standing = owing.get(commission.id)!
    const { id: commissionId, number, customer } = commission
    const due = { commissionId, number, customer: customer.name, reach: customer.reach }
    if (standing.state === 'deposit-due' && order.agreedOn !== null)
      return [{ ...due, kind: 'deposit', minor: standing.depositOpenMinor, since: order.agreedOn }]
    if (standing.state === 'deposit-due') return []
    return [{ ...due, kind: 'balance', minor: standing.owedMinor, since: order.handedOverOn ?? readyOn(commissionId) }]
  })
  return agedDues(dues, moment.today)

  function readyOn(commissionId: string): string {
    const ends = moment.stepsOf(commissionId).flatMap(({ id }) => {
      const progress = moment.progress(id)
      return progress.kind === 'done' ? [progress.endedAt] : []
    })
    return ends.length === 0 ? moment.today : localDay(Math.max(...ends), moment.wording.timeZone)
  }
}

/** Those of these orders that owe something, with how their money stands. */
const owingOf = (
  moment: Moment,
  orders: readonly Commission[],
  money: MoneyByOrder,
): (readonly [string, MoneyStanding])[] =>
  orders
    .map((commission) => [commission.id, moneyStandingOf(commission, money.get(commission.id) ?? [], moment)] as const)
    .filter(([, { state }]) => state === 'deposit-due' || state === 'balance-due')

/** What the orders that were handed over owe, up to an entry of the log. */
interface ClosedOwing {
  readonly almanac: Almanac
  readonly upTo: number
  readonly owing: ReadonlyMap<string, MoneyStanding>
}

const closedOwingOf = new WeakMap<OpenShop, ClosedOwing>()

/** After years they are thousands, of which few owe anything: only those are looked at again about which something was written down. */
async function closedOwing(shop: OpenShop): Promise<ReadonlyMap<string, MoneyStanding>> {
  const { almanac, db } = shop
  const upTo = await lastEntryId(db)
  const before = closedOwingOf.get(shop)
  const isKept = before?.almanac === almanac
  if (isKept && before.upTo === upTo) return before.owing
  const changed = isKept ? await commissionsOf(db, await ordersSince(db, before.upTo)) : await everyCommission(db)
  const money = isKept ? await moneyByOrder(db, changed) : await moneyByOrder(db)
  const owing = new Map(isKept ? before.owing : [])
  for (const { id } of changed) owing.delete(id)
  const handedOver = changed.filter(({ standing }) => standing === 'handed-over')
  for (const [id, standing] of owingOf(shop.moment(), handedOver, money)) owing.set(id, standing)
  closedOwingOf.set(shop, { almanac, upTo, owing })
  return owing
}

/** Keeps what the maker types of a year; nothing typed takes it away. */
export async function changeYearFigure(
  shop: OpenShop,
  year: number,
  name: YearFigure,
  typed: string,
): Promise<Result<Moved>> {
  const { currency } = shop.almanac.shop
  const read = typed.trim() === '' ? ok(null) : readPrice(typed, currency)
  if (!read.ok) return failed(...read.problems.map((each) => problem(each.code, each.message, name)))
  return shop.change(async (db) => {
    await keepYearFigure(db, year, name, read.value, { atMs: shop.nowMs, makerId: null })
    return ok(
      read.value === null
        ? `${year}: taken from the book again.`
        : `${year}: ${writeMoney(read.value, currency, shop.locale)} saved.`,
    )
  })
}
