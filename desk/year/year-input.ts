import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Book, Commission } from '../../core/book/book.ts'
import { minutesOver, workAt } from '../../core/book/work-done.ts'
import { constructionOfPiece } from '../../core/constructions/constructions.ts'
import { sum } from '../../core/money/exact.ts'
import { sharedOut } from '../../core/money/shared-out.ts'
import { localDay, startOfLocalDay } from '../../core/time/local-day.ts'
import type { YearOrder } from '../../core/year/tax-falls.ts'
import type { PieceSold, YearInput } from '../../core/year/year.ts'
import { allBoards } from '../../db/boards.ts'
import { boardsGone } from '../../db/boards-gone.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import { moneyOf } from '../../db/money.ts'
import { invoicesIssued, standingCredits } from '../../db/papers.ts'
import { NO_DAYS, standingDays } from '../../db/standing-days.ts'
import { workLogged } from '../../db/work-logged.ts'
import { yearFigures } from '../../db/year-figures.ts'
import { billOf } from '../money/order-money.ts'
import { builtPiece } from '../built-piece.ts'
import { termsOf } from '../money/priced-work.ts'
import { boughtFor } from '../money/price-of-work.ts'
import { yearSupplies } from './year-supplies.ts'
import type { OpenShop } from '../open-shop.ts'

/** Everything that a year is added up from, read from the shop's file. */
export async function yearInput(
  shop: OpenShop,
  year: number,
): Promise<YearInput & { readonly invoiced: ReadonlySet<string> }> {
  const { almanac, db } = shop
  const dayOf = (minutes: number): string => localDay(minutes, almanac.shop.timeZone)
  const orders = await yearOrders(shop)
  const { entries } = await workLogged(db, {
    fromMs: startOfLocalDay(`${year}-01-01`, almanac.shop.timeZone) * 60_000,
    toMs: startOfLocalDay(`${year + 1}-01-01`, almanac.shop.timeZone) * 60_000,
  })
  const [boards, gone] = [await allBoards(db), await boardsGone(db)]
  const credits = await standingCredits(db)
  const invoices = await invoicesIssued(db)
  return {
    year,
    money: almanac.money,
    orders: orders.map(({ order }) => order),
    entries: await moneyOf(db),
    credits: credits.flatMap(({ paper: { day, bill } }) =>
      bill === undefined ? [] : [{ day, netMinor: bill.netMinor, taxes: bill.taxes }],
    ),
    work: [...workAt(entries).values()].flatMap(({ stretches }) =>
      stretches.map(({ from, to }) => ({ day: dayOf(from), minutes: to - from })),
    ),
    sold: await piecesSold(
      shop,
      orders.filter(({ order }) => order.handedOverOn?.startsWith(`${year}-`)),
    ),
    boards: boards.map(({ id, priceMinor, addedAtMin, cutFrom, standing }) => {
      const goneMs = gone.get(id)
      return {
        minor: priceMinor,
        addedOn: dayOf(addedAtMin),
        goneOn: standing === 'on-hand' || goneMs === undefined ? null : dayOf(goneMs / 60_000),
        isOffcut: cutFrom !== null,
      }
    }),
    supplies: await yearSupplies(shop),
    typed: await yearFigures(db, year),
    invoiced: new Set(invoices.map(({ commissionId }) => commissionId)),
  }
}

/** Every order with its days, billed as its newest invoice says, or by today's almanac where there is none. */
export async function yearOrders(shop: OpenShop): Promise<{ commission: Commission; order: YearOrder }[]> {
  const { almanac, db } = shop
  const days = await standingDays(db)
  const invoiced = new Map((await invoicesIssued(db)).map((issued) => [issued.commissionId, issued.paper.bill]))
  const dayOf = (ms: number | null): string | null =>
    ms === null ? null : localDay(ms / 60_000, almanac.shop.timeZone)
  return (await orderBookRows(db)).map(({ commission }) => {
    const { id, number, customer, standing, takenAtMin } = commission
    const { agreedAtMs, handedOverAtMs, calledOffAtMs } = days.get(id) ?? NO_DAYS
    return {
      commission,
      order: {
        id,
        number,
        customer: customer.name,
        bill: standing === 'asked-about' ? null : (invoiced.get(id) ?? billOf(commission, almanac)),
        agreedOn: standing === 'asked-about' ? null : dayOf(agreedAtMs ?? takenAtMin * 60_000),
        handedOverOn: standing === 'handed-over' ? dayOf(handedOverAtMs) : null,
        calledOffOn: standing === 'called-off' ? dayOf(calledOffAtMs) : null,
      },
    }
  })
}

async function piecesSold(
  shop: OpenShop,
  orders: readonly { readonly commission: Commission; readonly order: YearOrder }[],
): Promise<PieceSold[]> {
  const book = await bookOfCommissions(
    shop.db,
    orders.map(({ order }) => order.id),
  )
  const minutesOf = minutesByPiece(book)
  const planned = Map.groupBy(book.steps, ({ pieceId }) => pieceId)
  return orders.flatMap(({ commission, order }) => {
    const pieces = book.pieces.filter(({ commissionId }) => commissionId === order.id)
    // What an order brought is shared by the work that each of its pieces was planned with.
    const shares = sharedOut(
      order.bill?.netMinor ?? 0,
      pieces.map(({ id }) => BigInt(sum((planned.get(id) ?? []).map(({ minutes }) => minutes)))),
    )
    return pieces.map((piece, index): PieceSold => {
      const minutes = minutesOf.get(piece.id) ?? 0
      return {
        construction: constructionOfPiece(piece)?.name ?? piece.construction,
        count: piece.count,
        netMinor: shares[index] ?? 0,
        boughtMinor: boughtFor(
          builtPiece(piece, shopFactsOf(shop.almanac, commission.takenAtMin, commission.home)),
          minutes,
          termsOf(commission),
          shop.almanac,
        ),
        minutes,
      }
    })
  })
}

function minutesByPiece({ steps, log }: Book): ReadonlyMap<string, number> {
  const pieceOf = new Map(steps.map(({ id, pieceId }) => [id, pieceId]))
  const minutes = new Map<string, number>()
  for (const [stepId, work] of workAt(log)) {
    const piece = pieceOf.get(stepId) ?? ''
    minutes.set(piece, (minutes.get(piece) ?? 0) + minutesOver(work))
  }
  return minutes
}
