import type { SupplyUse } from '../../core/timber/consumables-used.ts'
import { priceKeyOf } from '../../core/timber/supply-price.ts'
import type { Supply } from '../../core/book/supplies.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { ordersWorkedOnSince, supplyCounts } from '../../db/supplies.ts'
import type { OpenShop } from '../open-shop.ts'
import { suppliesUsed } from './supplies-used.ts'

/**
 * What is left of everything that is counted, by its id in stock: as it was counted, less what the coats, glue-ups and fitted hardware
 * since then have taken. It follows the log, so that undo and corrections give back what they take back.
 */
export async function suppliesLeft(shop: OpenShop): Promise<ReadonlyMap<string, number>> {
  const counted = shop.stock.supplies.filter((supply) => supply.amount !== null && takenAs(supply) !== null)
  if (counted.length === 0) return new Map()
  const counts = new Map((await supplyCounts(shop.db)).map(({ id, atMs }) => [id, atMs]))
  const since = Math.min(...counted.map(({ id }) => counts.get(id) ?? Infinity))
  const uses = since === Infinity ? [] : await usesSince(shop, since)
  return new Map(
    counted.map((supply) => {
      const from = counts.get(supply.id) ?? Infinity
      const used = uses
        .filter(({ product, atMin }) => product === takenAs(supply) && atMin * 60_000 > from)
        .reduce((sum, use) => sum + use.amount, 0)
      return [supply.id, Math.max(0, (supply.amount ?? 0) - used)]
    }),
  )
}

/** What work takes it as: a product of the almanac, or hardware of a kind; null: of nothing that work takes. */
export const takenAs = ({ productId, name }: Pick<Supply, 'productId' | 'name'>): string | null =>
  productId ?? priceKeyOf({ name })

/** What was taken since then, oldest first; `sinceMs` 0: ever. */
export const usesSince = async ({ db, almanac }: OpenShop, sinceMs: number): Promise<readonly SupplyUse[]> =>
  suppliesUsed(await bookOfCommissions(db, await ordersWorkedOnSince(db, sinceMs)), almanac)
