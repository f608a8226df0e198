import type { OrderRow } from '../../desk/orders/order-rows.ts'

export type OrderOfRows = 'day' | 'chance'

/** Orders as the desk gives them, by promised day; or the least sure promise first, and what is not promised last. */
export const sortedBy = (rows: readonly OrderRow[], by: OrderOfRows): readonly OrderRow[] =>
  by === 'day' ? rows : rows.toSorted((a, b) => chanceOf(a) - chanceOf(b))

const chanceOf = ({ outlook }: OrderRow): number => outlook.chance ?? 2
