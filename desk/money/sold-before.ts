import type { Almanac } from '../../core/almanac/almanac.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { constructionOfPiece } from '../../core/constructions/constructions.ts'
import { closestSold, type SoldBefore, woodIn } from '../../core/money/sold-before.ts'
import { minutesOver, workAt } from '../../core/book/work-done.ts'
import { localDay } from '../../core/time/local-day.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { newestOfOnePiece, type OrderBookRow, orderBookRowsOf } from '../../db/order-lists.ts'
import type { OpenShop } from '../open-shop.ts'

/** A piece sold before, with the hours that were logged for its order. */
export interface SoldBeforeView extends SoldBefore {
  /** For one of them; null: none were logged. */
  readonly minutesEach: number | null
}

/** Every construction of a shop of years is not built anew at each keystroke. */
const NEWEST = 60
const SHOWN = 4

/** Pieces of the same construction that were sold by themselves, or lost over their price: those of about the same size first. */
export async function soldBefore(
  shop: OpenShop,
  asked: { readonly construction: string; readonly woodMm3: number | null; readonly except: string | null },
): Promise<readonly SoldBeforeView[]> {
  const { db, almanac } = shop
  const commissionIds = await newestOfOnePiece(db, { ...asked, count: NEWEST })
  const rows = (await orderBookRowsOf(db, { commissionIds })).flatMap((row) => soldOf(row, almanac))
  const shown = closestSold(rows, asked.woodMm3, SHOWN)
  const { log, steps } = await bookOfCommissions(
    db,
    shown.map(({ commissionId }) => commissionId),
  )
  const work = workAt(log)
  return shown.map(({ count, ...sold }) => {
    const own = steps.filter(({ commissionId }) => commissionId === sold.commissionId)
    const minutes = own.reduce((sum, { id }) => sum + minutesOver(work.get(id) ?? { stretches: [] }), 0)
    return { ...sold, minutesEach: minutes === 0 ? null : Math.round(minutes / count) }
  })
}

function soldOf(
  { commission, pieces }: OrderBookRow,
  almanac: Almanac,
): readonly (SoldBefore & { readonly count: number })[] {
  const { id, number, customer, priceMinor, standing, closedFrom, takenAtMin, home } = commission
  const outcome =
    standing === 'agreed' || standing === 'handed-over'
      ? 'sold'
      : standing === 'called-off' && closedFrom === 'asked-about'
        ? 'lost'
        : null
  const [piece] = pieces
  if (piece === undefined || priceMinor === null || outcome === null) return []
  const build = constructionOfPiece(piece)?.build(piece.spec, 1, shopFactsOf(almanac, takenAtMin, home))
  return [
    {
      ...{ commissionId: id, number, customer: customer.name, title: piece.title, outcome, count: piece.count },
      takenOn: localDay(takenAtMin, almanac.shop.timeZone),
      eachMinor: Math.round(priceMinor / piece.count),
      woodMm3: build?.ok === true ? woodIn(build.value.parts) : null,
    },
  ]
}
