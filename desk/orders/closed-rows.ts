import { orderBookRows } from '../../db/commissions.ts'
import { standingOf } from '../money/order-money.ts'
import { moneyByOrder, moneyColumns } from '../money/order-rows-money.ts'
import { listsOf } from './order-lists.ts'
import { orderText } from './order-text.ts'
import type { OpenShop } from '../open-shop.ts'
import { closedWordOf } from '../screens/order-book.ts'
import { nothingToSay } from '../screens/outlook.ts'
import type { OrderRow } from '../views.ts'

/** Closed orders that the Order book shows before it is asked for more. */
export const firstClosed = 50

/** The newest orders that were handed over or called off: nothing of them is planned any more. */
export async function closedRows(shop: OpenShop, count: number = firstClosed): Promise<OrderRow[]> {
  const rows = await orderBookRows(shop.db, 'closed', { after: 0, count })
  const moment = shop.moment()
  const money = await moneyByOrder(
    shop.db,
    rows.map(({ commission }) => commission),
  )
  return rows.map(({ commission, pieces }) => {
    const standing = standingOf(commission, money.get(commission.id) ?? [], moment)
    return {
      commissionId: commission.id,
      number: commission.number,
      customer: commission.customer.name,
      titles: pieces.map((piece) => (piece.count === 1 ? piece.title : `${piece.count} × ${piece.title}`)),
      standing: closedWordOf(commission),
      neededBy: commission.neededBy,
      promisedFor: commission.promisedFor,
      doneAt: null,
      lateMinutes: 0,
      outlook: nothingToSay,
      stepsDone: 0,
      stepsTotal: 0,
      nextStep: null,
      ...moneyColumns(standing),
      lists: listsOf(commission, standing, moment),
      text: orderText(commission, pieces, moment.almanac, moment.wording.locale),
    }
  })
}
