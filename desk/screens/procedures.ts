import { z } from 'zod'
import type { Commission } from '../../core/book/book.ts'
import { failed, ok, problem } from '../../core/problems.ts'
import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { bookOfCommission } from '../../db/commissions.ts'
import { closedCounts } from '../../db/order-lists.ts'
import { damagedEntriesOf } from '../../db/log-chain.ts'
import { entriesOf } from '../../db/log.ts'
import { moneyOf } from '../../db/money.ts'
import { standingDays } from '../../db/standing-days.ts'
import { lastUndoable } from '../../db/undo.ts'
import { familyOf } from '../orders/related-orders.ts'
import { closedRows } from '../orders/closed-rows.ts'
import { entryText, historyLines } from '../orders/history-lines.ts'
import { moneyByOrder } from '../money/order-rows-money.ts'
import { type Moment, momentOf } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { noInput } from '../procedure.ts'
import { benchView } from './bench.ts'
import { hoursOfShopHeld } from '../learning/learned.ts'
import { remakesOf } from '../learning/remakes.ts'
import { commissionView } from './commission.ts'
import { outlookOf } from './outlook.ts'
import { whyFallen } from './why-fallen.ts'
import { orderBookView } from './order-book.ts'
import { rackView } from './rack.ts'
import { weeksView } from './weeks.ts'
import { tallyView } from '../tally/tally-view.ts'
import { milledNotTold } from '../lumber/milled-boards.ts'
import { id } from '../forms.ts'
import { inShop } from '../in-shop.ts'

/** The shop as far as this order, which may be closed; null: there is no such order. */
async function momentOfOrder(shop: OpenShop, commissionId: string | null): Promise<Moment | null> {
  if (commissionId === null) return null
  if (shop.book.commissions.some(({ id }) => id === commissionId)) return shop.moment()
  const book = await bookOfCommission(shop.db, commissionId)
  return book && momentOf(book, shop.almanac, null, shop.now, shop.locale, { stock: shop.stock })
}

/** The local day on which it was handed over or canceled; null: it is open. */
async function closedOn(shop: OpenShop, { id, standing }: Commission): Promise<LocalDay | null> {
  if (standing !== 'handed-over' && standing !== 'called-off') return null
  const days = (await standingDays(shop.db, [id])).get(id)
  const atMs = (standing === 'handed-over' ? days?.handedOverAtMs : days?.calledOffAtMs) ?? null
  return atMs === null ? null : localDay(Math.floor(atMs / 60_000), shop.almanac.shop.timeZone)
}

/** What the screens show. */
export const screensProcedures = {
  bench: inShop(z.strictObject({ rows: z.int().min(1).max(100_000) }), async (shop, { rows }) => {
    const moment = shop.moment()
    const last = await lastUndoable(shop.db)
    // What was done last may have closed its order.
    const of = last && ((await momentOfOrder(shop, last.commissionId)) ?? moment)
    const line = last && of && { entryId: last.id, text: entryText(last, of), atMs: last.atMs, device: last.device }
    return ok(benchView(moment, shop.planned?.tonight ?? null, line, await milledNotTold(shop), rows))
  }),
  rack: inShop(noInput, (shop) => ok(rackView(shop.moment()))),
  orderBook: inShop(noInput, async (shop) => {
    const money = await moneyByOrder(shop.db, shop.book.commissions)
    const moment = shop.moment()
    return ok(orderBookView(moment, money, await closedCounts(shop.db, moment.today)))
  }),
  closedOrders: inShop(z.strictObject({ count: z.int().min(1).max(100_000) }), async (shop, { count }) =>
    ok(await closedRows(shop, count)),
  ),
  weeksAhead: inShop(z.strictObject({ weeks: z.int().min(1).max(26) }), (shop, { weeks }) => {
    return ok(weeksView(shop.moment(), weeks))
  }),
  commission: inShop(z.strictObject({ id }), async (shop, { id: commissionId }) => {
    const moment = await momentOfOrder(shop, commissionId)
    const commission = moment?.book.commissions.find((each) => each.id === commissionId)
    if (!moment || !commission) {
      return failed(problem('unknown-commission', 'This order is not in the book. Find it in the Order book.', 'id'))
    }
    const damaged = await damagedEntriesOf(shop.db, commissionId)
    const entries = (await entriesOf(shop.db, commissionId)).filter((entry) => !damaged.has(entry.id))
    return ok(
      commissionView(
        commission,
        moment,
        {
          history: historyLines(entries, moment),
          damagedEntries: damaged.size,
          closedOn: await closedOn(shop, commission),
          whyFallen: outlookOf(commission, moment).hasFallen
            ? whyFallen(commission, moment, { entries, hoursHeld: await hoursOfShopHeld(shop) })
            : [],
          milled: (await milledNotTold(shop)).filter(({ piece }) => piece.commissionId === commissionId),
        },
        await moneyOf(shop.db, [commissionId]),
        await familyOf(shop.db, commission),
        await remakesOf(shop),
      ),
    )
  }),
  tally: inShop(noInput, async (shop) => ok(await tallyView(shop))),
}
