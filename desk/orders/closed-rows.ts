import { orderBookRows } from '../../db/order-lists.ts'
import { moneyByOrder } from '../money/order-rows-money.ts'
import { momentsOf } from '../money/work-of-canceled.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'
import { orderRows, orderTexts, type WorkColumns, type OrderRow } from './order-rows.ts'

/** Nothing of what is closed is planned any more. */
const nothingAhead: WorkColumns = { doneAt: null, lateMinutes: 0, stepsDone: 0, stepsTotal: 0, nextStep: null }

/** The newest orders that were handed over or called off. */
export const closedRows = (shop: OpenShop, count: number): Promise<readonly OrderRow[]> => {
  const { today, almanac } = shop.moment()
  return keptUntilMore(shop, 'closed', [today, almanac, count], () => findClosed(shop, count))
}

async function findClosed(shop: OpenShop, count: number): Promise<OrderRow[]> {
  const rows = await orderBookRows(shop.db, 'closed', { after: 0, count })
  const commissions = rows.map(({ commission }) => commission)
  const money = await moneyByOrder(shop.db, commissions)
  const text = orderTexts(shop.moment())
  return orderRows(
    rows.map(({ commission, pieces }) => ({ commission, pieces, work: nothingAhead, text: text(commission, pieces) })),
    money,
    shop.moment(),
    await momentsOf(shop, commissions, money),
  )
}
