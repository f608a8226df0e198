import { isFoundIn } from '../../core/book/found-in.ts'
import { commissionWords } from '../widgets/commission-words.ts'
import type { OrderList } from '../../desk/orders/order-lists.ts'
import type { OrderRow } from '../../desk/orders/order-rows.ts'

/** The rows in which everything typed is found: whatever was written about the order, its next step, or how it stands. */
export const findOrders = (rows: readonly OrderRow[], sought: string): readonly OrderRow[] =>
  sought.trim() === ''
    ? rows
    : rows.filter((row) => isFoundIn([row.text, row.nextStep ?? '', commissionWords[row.standing]].join(', '), sought))

/** The rows of one list; null: all of them. */
export const ofList = (rows: readonly OrderRow[], list: OrderList | null): readonly OrderRow[] =>
  list === null ? rows : rows.filter(({ lists }) => lists.includes(list))
