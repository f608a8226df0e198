import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { workAt } from '../../core/book/work-done.ts'
import { constructionOfPiece } from '../../core/constructions/constructions.ts'
import { consumablesUsed, type SupplyUse } from '../../core/timber/consumables-used.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { ordersWorkedOnSince, supplyCounts } from '../../db/supplies.ts'
import type { OpenShop } from '../open-shop.ts'

/**
 * What is left of each glue and finish that is counted, by its id in stock: as it was counted, less what the coats and glue-ups since then have
 * taken by their published spread. It follows the log, so that undo and corrections give back what they take back.
 */
export async function suppliesLeft(shop: OpenShop): Promise<ReadonlyMap<string, number>> {
  const counted = shop.stock.supplies.filter(({ amount, productId }) => amount !== null && productId !== null)
  if (counted.length === 0) return new Map()
  const counts = await supplyCounts(shop.db)
  const since = Math.min(...counted.map(({ id }) => counts.get(id) ?? Infinity))
  const uses = since === Infinity ? [] : await usesSince(shop, since)
  return new Map(
    counted.map(({ id, amount, productId }) => {
      const from = counts.get(id) ?? Infinity
      const used = uses
        .filter(({ product, atMin }) => product === productId && atMin * 60_000 > from)
        .reduce((sum, use) => sum + use.amount, 0)
      return [id, Math.max(0, (amount ?? 0) - used)]
    }),
  )
}

async function usesSince({ db, almanac }: OpenShop, sinceMs: number): Promise<readonly SupplyUse[]> {
  const { pieces, steps, commissions, log } = await bookOfCommissions(db, await ordersWorkedOnSince(db, sinceMs))
  const work = workAt(log)
  const lots = Map.groupBy(steps, ({ pieceId, lot }) => `${pieceId}/${lot}`)
  return [...lots.values()].flatMap((ofLot) => {
    const [first] = ofLot
    const piece = pieces.find(({ id }) => id === first?.pieceId)
    const order = commissions.find(({ id }) => id === piece?.commissionId)
    if (first === undefined || piece === undefined || order === undefined) return []
    const facts = shopFactsOf(almanac, order.takenAtMin, order.home)
    const build = constructionOfPiece(piece)?.build(piece.spec, first.lotCount, facts)
    if (build?.ok !== true) return []
    return consumablesUsed(
      build.value.consumed ?? [],
      ofLot.map(({ id, operation, lost }) => ({
        operation,
        doneAt: work.get(id)?.done?.at ?? null,
        lost: lost === true,
      })),
      almanac,
    )
  })
}
