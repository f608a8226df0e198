import type { Commission } from '../../core/book/book.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { momentOf, type Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import type { MoneyByOrder } from './order-rows-money.ts'

/** The moment that knows the work of an order: of a canceled one with payments, hours and wood decide what may be kept. */
export async function momentsOf(
  shop: OpenShop,
  commissions: readonly Commission[],
  money: MoneyByOrder,
): Promise<(commission: Commission) => Moment> {
  const moment = shop.moment()
  const canceled = commissions.filter(({ id, standing }) => standing === 'called-off' && money.has(id))
  if (canceled.length === 0) return () => moment
  const ids = new Set(canceled.map(({ id }) => id))
  const book = await bookOfCommissions(shop.db, [...ids])
  const theirs = momentOf(book, shop.almanac, null, shop.now, shop.locale, { stock: shop.stock })
  return ({ id }) => (ids.has(id) ? theirs : moment)
}
