import { priceKeyOf } from '../../core/timber/supply-price.ts'
import type { Supply } from '../../core/book/supplies.ts'
import { supplyCounts, type SupplyCount } from '../../db/supplies.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'
import { suppliesTaken } from './supplies-taken.ts'

/**
 * What is left of everything that is counted, by its id in stock: as it was counted, less what the coats, glue-ups and fitted hardware
 * since then have taken. It follows the log, so that undo and corrections give back what they take back.
 */
export async function suppliesLeft(shop: OpenShop): Promise<ReadonlyMap<string, number>> {
  const counted = shop.stock.supplies.filter((supply) => supply.amount !== null && takenAs(supply) !== null)
  if (counted.length === 0) return new Map()
  const counts = new Map((await countsOf(shop)).map(({ id, atMs }) => [id, atMs]))
  const since = Math.min(...counted.map(({ id }) => counts.get(id) ?? Infinity))
  const uses = since === Infinity ? [] : await suppliesTaken(shop, since)
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

/** Every count of every supply, oldest first. */
export const countsOf = (shop: OpenShop): Promise<readonly SupplyCount[]> =>
  keptUntilMore(shop, 'supply counts', [], () => supplyCounts(shop.db))
