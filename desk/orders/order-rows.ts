import type { Commission } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import { standingOf } from '../money/order-money.ts'
import { moneyColumns, type MoneyByOrder } from '../money/order-rows-money.ts'
import type { Moment } from '../moment.ts'
import { outlookOf } from '../screens/outlook.ts'
import type { OrderRow } from '../views.ts'
import { wordOf } from './commission-word.ts'
import { listsOf } from './order-lists.ts'
import { namesInSpecs, orderText, type FoundPiece } from './order-text.ts'

/** The columns that tell of the work on an order, and when it is done by the plan. */
export type WorkColumns = Pick<OrderRow, 'doneAt' | 'lateMinutes' | 'stepsDone' | 'stepsTotal' | 'nextStep'>

interface ListedOrder {
  readonly commission: Commission
  readonly pieces: readonly FoundPiece[]
  readonly work: WorkColumns
}

/** Orders as the rows of the Order book, open and closed alike. */
export function orderRows(orders: readonly ListedOrder[], money: MoneyByOrder, moment: Moment): OrderRow[] {
  const names = namesInSpecs(moment.almanac)
  return orders.map(({ commission, pieces, work }) => {
    const standing = standingOf(commission, money.get(commission.id) ?? [], moment)
    return {
      commissionId: commission.id,
      number: commission.number,
      customer: commission.customer.name,
      titles: pieces.map(countedTitle),
      standing: wordOf(commission, moment),
      neededBy: commission.neededBy,
      promisedFor: commission.promisedFor,
      ...work,
      outlook: outlookOf(commission, moment),
      ...moneyColumns(standing),
      lists: listsOf(commission, standing, moment),
      text: orderText(commission, pieces, { almanac: moment.almanac, names, locale: moment.wording.locale }),
    }
  })
}
