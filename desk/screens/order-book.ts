import type { Commission } from '../../core/book/book.ts'
import { standingOf } from '../money/order-money.ts'
import { moneyColumns, type MoneyByOrder } from '../money/order-rows-money.ts'
import { listsOf } from '../orders/order-lists.ts'
import { orderText } from '../orders/order-text.ts'
import type { Moment } from '../moment.ts'
import type { CommissionWord, OrderBookView, OrderRow } from '../views.ts'
import { dateOf, outlookOf } from './outlook.ts'

/** Who ordered what, promised for when, done when; which promises are at risk? Closed ones come from the store. */
export function orderBookView(
  moment: Moment,
  money: MoneyByOrder,
  closed: Pick<OrderBookView, 'closed' | 'closedCount'>,
): OrderBookView {
  const rows = moment.book.commissions.map((commission) => orderRow(commission, moment, money))
  return { open: rows.sort((a, b) => dueKey(a).localeCompare(dueKey(b)) || a.number - b.number), ...closed }
}

const dueKey = (row: OrderRow): string => row.promisedFor ?? row.neededBy ?? '9999'

function orderRow(commission: Commission, moment: Moment, money: MoneyByOrder): OrderRow {
  const steps = moment.stepsOf(commission.id)
  const done = steps.filter((step) => moment.progress(step.id).kind === 'done')
  const next = steps
    .filter((step) => moment.progress(step.id).kind !== 'done')
    .sort((a, b) => (moment.planned(a.id)?.start ?? Infinity) - (moment.planned(b.id)?.start ?? Infinity))[0]
  const pieces = moment.book.pieces.filter((piece) => piece.commissionId === commission.id)
  const standing = standingOf(commission, money.get(commission.id) ?? [], moment)
  const date = dateOf(commission, moment)
  return {
    commissionId: commission.id,
    number: commission.number,
    customer: commission.customer.name,
    titles: pieces.map((piece) => (piece.count === 1 ? piece.title : `${piece.count} × ${piece.title}`)),
    standing: wordOf(commission, moment),
    neededBy: commission.neededBy,
    promisedFor: commission.promisedFor,
    ...date,
    outlook: outlookOf(commission, moment),
    stepsDone: done.length,
    stepsTotal: steps.length,
    nextStep: next?.name ?? null,
    ...moneyColumns(standing),
    lists: listsOf(commission, standing, moment),
    text: orderText(commission, pieces, moment.almanac, moment.wording.locale),
  }
}

/** An inquiry that came to nothing is lost, an order is canceled. */
export const closedWordOf = ({ standing, closedFrom }: Commission): CommissionWord =>
  standing !== 'called-off' ? 'handed-over' : closedFrom === 'asked-about' ? 'lost' : 'called-off'

/** *In the shop* and *ready for pickup* follow from the log, the rest was decided by people. */
export function wordOf(commission: Commission, moment: Moment): CommissionWord {
  if (commission.standing === 'called-off') return closedWordOf(commission)
  if (commission.standing !== 'agreed') return commission.standing
  if (commission.onHoldUntil !== null) return 'on-hold'
  const kinds = moment.stepsOf(commission.id).map((step) => moment.progress(step.id).kind)
  if (kinds.length > 0 && kinds.every((kind) => kind === 'done')) return 'ready-to-collect'
  return kinds.some((kind) => kind !== 'to-do') ? 'in-the-shop' : 'agreed'
}
