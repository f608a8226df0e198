import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { seenAtWork } from '../learning/learned.ts'
import type { OpenShop } from '../open-shop.ts'
import { estimatesOf, type Estimates } from './estimates-of.ts'
import { hoursAhead, hoursBehind, type HoursOfWeek } from './hours-of-weeks.ts'
import { madeAgain, type MadeAgain } from './made-again.ts'
import { handedOverOrders } from './judged-promises.ts'
import { promisesOfShop, type LateOrder, type PromisesJudged } from './promises-of-shop.ts'

/** How the shop does against what it said: everything is worked out from the log, nothing is kept. */
export interface TallyView extends Estimates {
  /** Promises, hours and estimates are counted from this day on; null: from the beginning. */
  readonly since: LocalDay | null
  readonly promises: PromisesJudged
  /** The newest first. */
  readonly late: readonly LateOrder[]
  readonly madeAgain: readonly MadeAgain[]
  readonly attendance: readonly { readonly maker: string; readonly met: number; readonly missed: number }[]
  /** Hours of the almanac and hours logged, the oldest week first; empty before anything was logged. */
  readonly hoursBehind: readonly HoursOfWeek[]
  /** Hours of the almanac and hours planned, this week first; empty without a plan. */
  readonly hoursAhead: readonly HoursOfWeek[]
}

export async function tallyView(shop: OpenShop): Promise<TallyView> {
  const moment = shop.moment()
  const learned = await seenAtWork(shop)
  const handedOver = await handedOverOrders(shop)
  const makers = new Map(moment.almanac.makers.map(({ id, name }) => [id, name]))
  const { judged, late } = await promisesOfShop(shop, handedOver, learned.newest)
  const { since } = learned.newest
  return {
    since: since === null ? null : localDay(since, moment.almanac.shop.timeZone),
    promises: judged,
    late,
    madeAgain: await madeAgain(shop),
    attendance: learned.attendance.makers.flatMap(({ id, met, missed }) =>
      met + missed === 0 ? [] : [{ maker: makers.get(id) ?? '', met, missed }],
    ),
    hoursBehind: hoursBehind(learned.newest, moment),
    hoursAhead: hoursAhead(moment),
    ...estimatesOf(learned, handedOver, moment),
  }
}
