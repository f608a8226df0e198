import { readPrice, writeMoney } from '../../core/money/money.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { localDay } from '../../core/time/local-day.ts'
import type { YearFigure, YearFigures } from '../../core/year/goods-sold.ts'
import { agedDues, type Due } from '../../core/year/owed.ts'
import { accountOf, type AccountLine } from '../../core/year/schedule-c.ts'
import { yearOf, type Year } from '../../core/year/year.ts'
import { moneyOf } from '../../db/money.ts'
import { everyCommission } from '../../db/order-lists.ts'
import { firstAgreedMs } from '../../db/orders-in-year.ts'
import { keepYearFigure } from '../../db/year-figures.ts'
import { moneyStandingOf } from '../money/order-money.ts'
import type { OpenShop } from '../open-shop.ts'
import { yearInput, yearOrders } from './year-input.ts'
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
  const input = await yearInput(shop, asked ?? present)
  const year = yearOf(input)
  const firstMs = await firstAgreedMs(shop.db)
  const first = firstMs === null ? present : Math.min(present, yearAt(firstMs, shop))
  const ofYear = input.orders.filter(({ handedOverOn }) => handedOverOn?.startsWith(`${year.year}-`))
  return {
    ...year,
    years: Array.from({ length: present - first + 1 }, (_, index) => present - index),
    isOver: today > `${year.year}-12-31`,
    account: accountOf(year),
    typed: input.typed,
    withoutInvoice: year.taxes.length === 0 ? 0 : ofYear.filter(({ id }) => !input.invoiced.has(id)).length,
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
  const money = Map.groupBy(await moneyOf(shop.db), ({ commissionId }) => commissionId)
  const standings = (await everyCommission(shop.db)).flatMap((commission) => {
    const standing = moneyStandingOf(commission, money.get(commission.id) ?? [], moment)
    return standing.state === 'deposit-due' || standing.state === 'balance-due'
      ? [[commission.id, standing] as const]
      : []
  })
  const owing = new Map(standings)
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
