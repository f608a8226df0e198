import type { Almanac } from '../../core/almanac/almanac.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Book } from '../../core/book/book.ts'
import { workAt } from '../../core/book/work-done.ts'
import { constructionOfPiece } from '../../core/constructions/constructions.ts'
import { consumablesUsed, type SupplyUse } from '../../core/timber/consumables-used.ts'
import { hardwareUsed } from '../../core/timber/hardware-used.ts'

/** Glue, finish and hardware that the done steps of these orders have taken, lot by lot; what was lost counts too. */
export function suppliesUsed(
  { commissions, pieces, steps, log }: Pick<Book, 'commissions' | 'pieces' | 'steps' | 'log'>,
  almanac: Almanac,
): readonly SupplyUse[] {
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
    const done = ofLot.map(({ id, key, operation, lost }) => ({
      ...{ key, operation },
      doneAt: work.get(id)?.done?.at ?? null,
      lost: lost === true,
    }))
    return [
      ...consumablesUsed(build.value.consumed ?? [], done, almanac),
      ...hardwareUsed(build.value.fittings ?? [], done),
    ]
  })
}
