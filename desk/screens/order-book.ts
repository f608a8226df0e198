import type { Commission } from '../../core/book/book.ts'
import type { MoneyByOrder } from '../money/order-rows-money.ts'
import { orderRows, orderTexts, type ListedOrder, type WorkColumns, type OrderRow } from '../orders/order-rows.ts'
import type { Moment } from '../moment.ts'
import { onceAMoment } from '../once-a-moment.ts'
import { dateOf } from './outlook.ts'

export interface OrderBookView {
  readonly open: readonly OrderRow[]
  /** `closedOrders` gives them. */
  readonly closedCount: number
  /** Of those, how many are to be called about today. */
  readonly closedToCall: number
}

/** Who ordered what, promised for when, done when; which promises are at risk? Closed ones are counted. */
export function orderBookView(moment: Moment, money: MoneyByOrder, closed: Omit<OrderBookView, 'open'>): OrderBookView {
  const rows = orderRows(openOrders(moment), money, moment)
  return { open: rows.sort((a, b) => dueKey(a).localeCompare(dueKey(b)) || a.number - b.number), ...closed }
}

const openOrders = onceAMoment((moment: Moment): readonly ListedOrder[] => {
  const piecesOf = Map.groupBy(moment.book.pieces, ({ commissionId }) => commissionId)
  const text = orderTexts(moment)
  return moment.book.commissions.map((commission) => {
    const pieces = piecesOf.get(commission.id) ?? []
    return { commission, pieces, work: workColumns(commission, moment), text: text(commission, pieces) }
  })
})

const dueKey = (row: OrderRow): string => row.promisedFor ?? row.neededBy ?? '9999'

function workColumns(commission: Commission, moment: Moment): WorkColumns {
  const steps = moment.stepsOf(commission.id)
  const toDo = steps.filter((step) => moment.progress(step.id).kind !== 'done')
  const startOf = (id: string): number => moment.planned(id)?.start ?? Infinity
  return {
    ...dateOf(commission, moment),
    stepsDone: steps.length - toDo.length,
    stepsTotal: steps.length,
    nextStep: toDo.sort((a, b) => startOf(a.id) - startOf(b.id))[0]?.name ?? null,
  }
}
