import { localDay } from '../../core/time/local-day.ts'
import type { YearSupply } from '../../core/year/supplies-in-year.ts'
import { supplyCounts } from '../../db/supplies.ts'
import { takenAs, usesSince } from '../lumber/supplies-left.ts'
import type { OpenShop } from '../open-shop.ts'

/** Everything on the list of supplies that was ever counted, with what was taken of it since. */
export async function yearSupplies(shop: OpenShop): Promise<YearSupply[]> {
  const counts = Map.groupBy(await supplyCounts(shop.db), ({ id }) => id)
  if (counts.size === 0) return []
  const { shop: place, money } = shop.almanac
  const when = (atMin: number) => ({ atMin, day: localDay(atMin, place.timeZone) })
  const uses = await usesSince(shop, 0)
  return shop.stock.supplies.flatMap((supply): YearSupply[] => {
    const own = counts.get(supply.id)
    if (own === undefined) return []
    const key = takenAs(supply)
    return [
      {
        price: money.supplyPrices[key ?? ''] ?? null,
        counts: own.map(({ atMs, amount }) => ({ ...when(Math.floor(atMs / 60_000)), amount: amount ?? 0 })),
        uses: uses.filter(({ product }) => product === key).map(({ atMin, amount }) => ({ ...when(atMin), amount })),
      },
    ]
  })
}
