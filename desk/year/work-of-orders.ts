import type { Almanac } from '../../core/almanac/almanac.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Commission, Book } from '../../core/book/book.ts'
import { minutesOver, NO_WORK, workAt } from '../../core/book/work-done.ts'
import { constructionOfPiece } from '../../core/constructions/constructions.ts'
import { sum } from '../../core/money/exact.ts'
import { sharedOut } from '../../core/money/shared-out.ts'
import { localDay } from '../../core/time/local-day.ts'
import type { PieceSold, YearWork } from '../../core/year/year.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { newestEntries } from '../../db/orders-in-year.ts'
import { workEntriesOf } from '../../db/steps.ts'
import { builtPiece } from '../built-piece.ts'
import { boughtFor } from '../money/price-of-work.ts'
import { termsOf } from '../money/priced-work.ts'
import type { OpenShop } from '../open-shop.ts'
import { othersFirst } from '../others-first.ts'

/** A piece with what it cost, and how much of its order's price is its share. */
interface PieceMade extends Omit<PieceSold, 'netMinor'> {
  readonly plannedMin: number
}

/** What was found of an order when its newest entry in the log was that one. */
interface Found<T> {
  readonly upTo: number
  readonly found: T
}

/**
 * What was worked on an order, and what its pieces cost, kept for as long as nothing about it was written down: the orders of a year are
 * hundreds, of which a press changes one.
 */
interface Kept {
  readonly almanac: Almanac
  readonly days: Map<string, Found<readonly YearWork[]>>
  readonly pieces: Map<string, Found<readonly PieceMade[]>>
}

const kept = new WeakMap<OpenShop, Kept>()

function keptOf(shop: OpenShop): Kept {
  const before = kept.get(shop)
  if (before?.almanac === shop.almanac) return before
  const now: Kept = { almanac: shop.almanac, days: new Map(), pieces: new Map() }
  kept.set(shop, now)
  return now
}

/** Hands-on minutes at these orders, ever, by civil day. */
export async function workOfOrders(shop: OpenShop, commissionIds: readonly string[]): Promise<YearWork[]> {
  const { days } = keptOf(shop)
  const found = await refreshed(shop, commissionIds, days, async (ids) => {
    const entries = await workEntriesOf(shop.db, ids)
    return new Map(
      ids.map((id) => {
        const stretches = [...workAt(entries.get(id) ?? []).values()].flatMap((work) => work.stretches)
        const dayOf = (minutes: number): string => localDay(minutes, shop.almanac.shop.timeZone)
        return [id, stretches.map(({ from, to }) => ({ day: dayOf(from), minutes: to - from }))]
      }),
    )
  })
  return found.flat()
}

/** The pieces of these orders, each with its share of what the order brought and with what was bought for it. */
export async function piecesSold(
  shop: OpenShop,
  orders: readonly { readonly commission: Commission; readonly netMinor: number }[],
): Promise<PieceSold[]> {
  const commissions = new Map(orders.map(({ commission }) => [commission.id, commission]))
  const found = await refreshed(shop, [...commissions.keys()], keptOf(shop).pieces, async (ids) => {
    const made = piecesMade(await bookOfCommissions(shop.db, ids), shop.almanac)
    return new Map(ids.map((id) => [id, made(commissions.get(id)!)]))
  })
  return found.flatMap((pieces, index) => {
    // What an order brought is shared by the work that each of its pieces was planned with.
    const shares = sharedOut(
      orders[index]?.netMinor ?? 0,
      pieces.map(({ plannedMin }) => BigInt(plannedMin)),
    )
    return pieces.map(({ plannedMin: _, ...piece }, at) => ({ ...piece, netMinor: shares[at] ?? 0 }))
  })
}

/** Of so many the reading takes some hundredths of a second. */
const ORDERS_AT_ONCE = 20

/** What was kept of these orders, with those found anew about which something was written since. In their order. */
async function refreshed<T>(
  shop: OpenShop,
  commissionIds: readonly string[],
  known: Map<string, Found<T>>,
  find: (ids: readonly string[]) => Promise<ReadonlyMap<string, T>>,
): Promise<T[]> {
  const newest = await newestEntries(shop.db, commissionIds)
  const missing = commissionIds.filter((id) => known.get(id)?.upTo !== (newest.get(id) ?? 0))
  for (let at = 0; at < missing.length; at += ORDERS_AT_ONCE) {
    const part = await find(missing.slice(at, at + ORDERS_AT_ONCE))
    for (const [id, found] of part) known.set(id, { upTo: newest.get(id) ?? 0, found })
    if (missing.length > ORDERS_AT_ONCE) await othersFirst()
  }
  return commissionIds.map((id) => known.get(id)!.found)
}

/** So much of the work that a piece was planned with has to have hours in the log: of less its rate would tell too much. Common practice, no source. */
const KNOWN_SHARE = 0.9

/** Of a book with these orders in it, how the pieces of one were made. */
function piecesMade(book: Book, almanac: Almanac): (commission: Commission) => readonly PieceMade[] {
  const works = workAt(book.log)
  const minutesAt = (stepId: string): number => minutesOver(works.get(stepId) ?? NO_WORK)
  const planned = Map.groupBy(book.steps, ({ pieceId }) => pieceId)
  const pieces = Map.groupBy(book.pieces, ({ commissionId }) => commissionId)
  return (commission) => {
    const facts = shopFactsOf(almanac, commission.takenAtMin, commission.home)
    return (pieces.get(commission.id) ?? []).map((piece) => {
      const steps = planned.get(piece.id) ?? []
      const minutes = sum(steps.map(({ id }) => minutesAt(id)))
      // What was lost was worked as well, but is no part of what was made.
      const made = steps.filter(({ lost }) => lost !== true)
      const plannedMin = sum(made.map((step) => step.minutes))
      const timedMin = sum(made.filter(({ id }) => minutesAt(id) > 0).map((step) => step.minutes))
      return {
        construction: constructionOfPiece(piece)?.name ?? piece.construction,
        count: piece.count,
        boughtMinor: boughtFor(builtPiece(piece, facts), minutes, termsOf(commission), almanac),
        minutes,
        hoursKnown: minutes > 0 && timedMin >= KNOWN_SHARE * plannedMin,
        plannedMin,
      }
    })
  }
}
