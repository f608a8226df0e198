import type { Commission } from '../../core/book/book.ts'
import { localDay, startOfLocalDay } from '../../core/time/local-day.ts'
import type { YearOrder } from '../../core/year/tax-falls.ts'
import type { YearFigures } from '../../core/year/goods-sold.ts'
import {
  moneyOfYear,
  yearOf,
  type Year,
  type YearInMoney,
  type YearInput,
  type YearWork,
} from '../../core/year/year.ts'
import { allBoards } from '../../db/boards.ts'
import { boardsGone } from '../../db/boards-gone.ts'
import { orderBookRowsOf } from '../../db/order-lists.ts'
import { ordersInYear, ordersWorkedOn } from '../../db/orders-in-year.ts'
import { moneyOf } from '../../db/money.ts'
import { invoicesIssued, standingCredits } from '../../db/papers.ts'
import { NO_DAYS, standingDays } from '../../db/standing-days.ts'
import { yearFigures } from '../../db/year-figures.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import { billOf } from '../money/order-money.ts'
import { piecesSold, workOfOrders } from './work-of-orders.ts'
import { yearSupplies } from './year-supplies.ts'
import type { OpenShop } from '../open-shop.ts'

/** A year, with what else is told of it. */
export interface YearRead {
  readonly year: Year
  readonly typed: YearFigures
  /** Orders handed over in it that no invoice was issued for. */
  readonly withoutInvoice: number
}

/** A year as it is written down: all but what a press at the bench moves. */
interface AsWritten extends Pick<YearInput, 'boards' | 'typed'>, Pick<YearRead, 'withoutInvoice'> {
  readonly inMoney: YearInMoney
  /** At orders that are closed. */
  readonly work: readonly YearWork[]
}

/**
 * A year added up. What a press at the bench cannot change, which is nearly all of it, is added up anew only once something else was
 * written down.
 */
export async function yearRead(shop: OpenShop, year: number): Promise<YearRead> {
  const { almanac } = shop
  const kept = await keptUntilMore(shop, `year ${year}`, [almanac], () => asWritten(shop, year))
  const { inMoney, boards, typed, withoutInvoice } = kept
  const open = shop.moment().book.commissions.map(({ id }) => id)
  const work = [...kept.work, ...(await workOfOrders(shop, open))]
  const supplies = await yearSupplies(shop, year)
  return { year: yearOf(inMoney, { money: almanac.money, work, boards, supplies, typed }), typed, withoutInvoice }
}

async function asWritten(shop: OpenShop, year: number): Promise<AsWritten> {
  const { almanac, db } = shop
  const dayOf = (minutes: number): string => localDay(minutes, almanac.shop.timeZone)
  const fromMs = startOfLocalDay(`${year}-01-01`, almanac.shop.timeZone) * 60_000
  const toMs = startOfLocalDay(`${year + 1}-01-01`, almanac.shop.timeZone) * 60_000
  const orders = await yearOrders(
    shop,
    await ordersInYear(db, { fromMs, toMs, firstDay: `${year}-01-01`, lastDay: `${year}-12-31` }),
  )
  const ids = orders.map(({ order }) => order.id)
  const handedOver = orders.filter(({ order }) => order.handedOverOn?.startsWith(`${year}-`) === true)
  const open = new Set(shop.moment().book.commissions.map(({ id }) => id))
  const workedOn = await ordersWorkedOn(db, fromMs, toMs)
  const [boards, gone] = [await allBoards(db), await boardsGone(db)]
  const credits = await standingCredits(db, ids)
  const invoiced = new Set((await invoicesIssued(db, ids)).map(({ commissionId }) => commissionId))
  const closed = workedOn.filter((id) => !open.has(id))
  return {
    inMoney: moneyOfYear({
      year,
      money: almanac.money,
      orders: orders.map(({ order }) => order),
      entries: await moneyOf(db, ids),
      credits: credits.flatMap(({ paper: { day, bill } }) =>
        bill === undefined ? [] : [{ day, netMinor: bill.netMinor, taxes: bill.taxes }],
      ),
      sold: await piecesSold(
        shop,
        handedOver.map(({ commission, order: { bill } }) => ({ commission, netMinor: bill?.netMinor ?? 0 })),
      ),
    }),
    work: byDay(await workOfOrders(shop, closed)),
    boards: boards.map(({ id, priceMinor, addedAtMin, cutFrom, standing }) => {
      const goneMs = gone.get(id)
      return {
        minor: priceMinor,
        addedOn: dayOf(addedAtMin),
        goneOn: standing === 'on-hand' || goneMs === undefined ? null : dayOf(goneMs / 60_000),
        isOffcut: cutFrom !== null,
      }
    }),
    typed: await yearFigures(db, year),
    withoutInvoice: handedOver.filter(({ order }) => !invoiced.has(order.id)).length,
  }
}

/** All minutes of a day together. */
function byDay(work: readonly YearWork[]): YearWork[] {
  const days = new Map<string, number>()
  for (const { day, minutes } of work) days.set(day, (days.get(day) ?? 0) + minutes)
  return [...days].map(([day, minutes]) => ({ day, minutes }))
}

/** These orders with their days, billed as their newest invoice says, or by today's almanac where there is none. */
export async function yearOrders(
  shop: OpenShop,
  commissionIds: readonly string[],
): Promise<{ commission: Commission; order: YearOrder }[]> {
  const { almanac, db } = shop
  const days = await standingDays(db, commissionIds)
  const invoices = await invoicesIssued(db, commissionIds)
  const invoiced = new Map(invoices.map((issued) => [issued.commissionId, issued.paper.bill]))
  const dayOf = (ms: number | null): string | null =>
    ms === null ? null : localDay(ms / 60_000, almanac.shop.timeZone)
  return (await orderBookRowsOf(db, { commissionIds })).map(({ commission }) => {
    const { id, number, customer, standing, takenAtMin } = commission
    const { agreedAtMs, handedOverAtMs, calledOffAtMs } = days.get(id) ?? NO_DAYS
    return {
      commission,
      order: {
        id,
        number,
        customer: customer.name,
        bill: standing === 'asked-about' ? null : (invoiced.get(id) ?? billOf(commission, almanac)),
        agreedOn: standing === 'asked-about' ? null : dayOf(agreedAtMs ?? takenAtMin * 60_000),
        handedOverOn: standing === 'handed-over' ? dayOf(handedOverAtMs) : null,
        calledOffOn: standing === 'called-off' ? dayOf(calledOffAtMs) : null,
      },
    }
  })
}
