import { progressOf } from '../../core/book/step-progress.ts'
import { lessSureByRecord, RECORD_FROM, toldAsFourInFive } from '../../core/learning/index.ts'
import { judgedPromises, type JudgedPromise, type PromisedOrder } from '../../core/tally/kept-promises.ts'
import { localDay } from '../../core/time/local-day.ts'
import { ordersHandedOver, type HandedOver } from '../../db/finished-orders.ts'
import { promisesOf } from '../../db/promises.ts'
import type { NewestWork } from '../learning/newest-work.ts'
import type { Moment } from '../moment.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'
import { outlookOf } from '../screens/outlook.ts'

/** Promises of the shop that came true or did not, of open orders and of those handed over, as far back as the work goes. */
export async function judgedOf(
  shop: OpenShop,
  handedOver: readonly HandedOver[],
  newest: NewestWork,
): Promise<readonly JudgedPromise[]> {
  const moment = shop.moment()
  const { today, almanac } = moment
  const closed = await keptUntilMore(shop, 'judged', [today, almanac, handedOver, newest.since], async () =>
    judgedPromises(closedOrders(handedOver, newest, moment), await promisesOf(shop.db), today),
  )
  const open = openOrders(moment)
  const given = await promisesOf(
    shop.db,
    open.map(({ commissionId }) => commissionId),
  )
  return [...closed, ...judgedPromises(open, given, today)]
}

export const handedOverOrders = (shop: OpenShop): Promise<readonly HandedOver[]> =>
  keptUntilMore(shop, 'handed over', [], () => ordersHandedOver(shop.db))

/** What the shop's own record says of its chances. */
export interface OwnRecord {
  /** Promises with a stated chance that came true or did not. */
  readonly promises: number
  /** The chance by the plan that is told as 4 in 5. */
  readonly toldAsFourInFive: number
  /** How much less sure the shop is than its model says, in standard deviations; 0 while the record is short. */
  readonly lessSure: number
  /** So many promises are needed before it counts. */
  readonly from: number
}

export function ownRecordOf(judged: readonly JudgedPromise[]): OwnRecord {
  const stated = judged
    .flatMap(({ stated: chance, kept, day }) => (chance === null ? [] : [{ stated: chance, kept, day }]))
    .sort((a, b) => a.day.localeCompare(b.day))
  const lessSure = lessSureByRecord(stated)
  return { promises: stated.length, lessSure, toldAsFourInFive: toldAsFourInFive(lessSure), from: RECORD_FROM }
}

/** How much less sure new chances are by the shop's own record; 0 where the maker does not want it to count. */
export async function lessSureOf(shop: OpenShop, newest: NewestWork): Promise<number> {
  if (shop.almanac.countRecord === 'no') return 0
  return ownRecordOf(await judgedOf(shop, await handedOverOrders(shop), newest)).lessSure
}

function closedOrders(handedOver: readonly HandedOver[], newest: NewestWork, moment: Moment): PromisedOrder[] {
  const { since } = newest
  const progress = progressOf(newest.entries())
  const ends = new Map<string, number>()
  for (const { id, commissionId } of newest.steps()) {
    const how = progress.get(id)
    if (how?.kind === 'done') ends.set(commissionId, Math.max(ends.get(commissionId) ?? 0, how.endedAt))
  }
  const known = handedOver.filter(
    ({ commissionId, atMs }) => since === null || ends.has(commissionId) || (atMs ?? 0) >= since * 60_000,
  )
  return known.map(({ commissionId, atMs }) => {
    const endedAt = ends.get(commissionId) ?? (atMs === null ? null : Math.floor(atMs / 60_000))
    return {
      commissionId,
      handedOverAtMs: atMs,
      finishedOn: endedAt === null ? null : localDay(endedAt, moment.almanac.shop.timeZone),
    }
  })
}

/** What stands on hold is judged once it is taken up again. */
const openOrders = (moment: Moment): PromisedOrder[] =>
  moment.book.commissions
    .filter(({ standing, onHoldUntil }) => standing === 'agreed' && onHoldUntil === null)
    .map((commission) => ({
      commissionId: commission.id,
      handedOverAtMs: null,
      finishedOn: outlookOf(commission, moment).finishedOn,
    }))
