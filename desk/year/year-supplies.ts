import { localDay, startOfLocalDay } from '../../core/time/local-day.ts'
import type { YearSupply } from '../../core/year/supplies-in-year.ts'
import type { SupplyCount } from '../../db/supplies.ts'
import { countsOf, takenAs } from '../lumber/supplies-left.ts'
import { suppliesTaken } from '../lumber/supplies-taken.ts'
import type { OpenShop } from '../open-shop.ts'

/** Everything on the list of supplies that was counted by the end of a year, with what was taken of it since. */
export async function yearSupplies(shop: OpenShop, year: number): Promise<YearSupply[]> {
  const { shop: place, money } = shop.almanac
  const beginMs = startOfLocalDay(`${year}-01-01`, place.timeZone) * 60_000
  const endMs = startOfLocalDay(`${year + 1}-01-01`, place.timeZone) * 60_000
  const byId = Map.groupBy(
    (await countsOf(shop)).filter(({ atMs }) => atMs < endMs),
    ({ id }) => id,
  )
  const counts = new Map([...byId].map(([id, own]) => [id, thatCountFrom(own, beginMs)]))
  const since = Math.min(...[...counts.values()].flatMap(([first]) => first?.atMs ?? []))
  if (since === Infinity) return []
  const taken = Map.groupBy(await suppliesTaken(shop, since), ({ product }) => product)
  return shop.stock.supplies.flatMap((supply): YearSupply[] => {
    const own = counts.get(supply.id)
    if (own === undefined) return []
    const key = takenAs(supply) ?? ''
    return [
      {
        price: money.supplyPrices[key] ?? null,
        counts: own.map(({ atMs, amount }) => {
          const atMin = Math.floor(atMs / 60_000)
          return { atMin, day: localDay(atMin, place.timeZone), amount: amount ?? 0 }
        }),
        uses: taken.get(key) ?? [],
      },
    ]
  })
}

/** A count says anew how much there is: what was counted and taken before the last one of earlier years says nothing any more. */
function thatCountFrom(counts: readonly SupplyCount[], beginMs: number): readonly SupplyCount[] {
  const sorted = counts.toSorted((a, b) => a.atMs - b.atMs)
  return sorted.slice(
    Math.max(
      0,
      sorted.findLastIndex(({ atMs }) => atMs < beginMs),
    ),
  )
}
