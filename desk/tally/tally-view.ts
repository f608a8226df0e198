import type { EstimateSum } from '../../core/tally/estimates.ts'
import type { TenthOfPromises } from '../../core/tally/kept-promises.ts'
import { ordersHandedOver } from '../../db/finished-orders.ts'
import { learnedBy } from '../learning/learned.ts'
import type { OpenShop } from '../open-shop.ts'
import { estimatesOf } from './estimates-of.ts'
import { hoursAhead, hoursBehind, type HoursOfWeek } from './hours-of-weeks.ts'
import { promisesOfShop, type LateOrder } from './promises-of-shop.ts'

/** How the shop does against what it said: everything is worked out from the log, nothing is kept. */
export interface TallyView {
  readonly promises: {
    /** By stated chance, the surest first; the newest of each. */
    readonly tenths: readonly TenthOfPromises[]
    readonly judged: number
    readonly kept: number
    /** Judged, but given without a chance: in no tenth. */
    readonly withoutChance: number
    /** Judged, and moved to a later day by the maker before. */
    readonly movedByMaker: number
  }
  /** The newest first. */
  readonly late: readonly LateOrder[]
  readonly attendance: readonly { readonly maker: string; readonly met: number; readonly missed: number }[]
  /** Hours of the almanac and hours logged, the oldest week first; empty before anything was logged. */
  readonly hoursBehind: readonly HoursOfWeek[]
  /** Hours of the almanac and hours planned, this week first; empty without a plan. */
  readonly hoursAhead: readonly HoursOfWeek[]
  /** The newest order first. */
  readonly byOrder: readonly (EstimateSum & { readonly number: number; readonly customer: string })[]
  readonly byConstruction: readonly (EstimateSum & { readonly name: string })[]
  /** Steps that were done, but of which nobody knows how long they took. */
  readonly stepsLeftOut: number
}

export async function tallyView(shop: OpenShop): Promise<TallyView> {
  const moment = shop.moment()
  const learned = await learnedBy(shop)
  const handedOver = await ordersHandedOver(shop.db)
  const makers = new Map(moment.almanac.makers.map(({ id, name }) => [id, name]))
  const { judged, late } = await promisesOfShop(shop, handedOver, learned.work)
  return {
    promises: judged,
    late,
    attendance: learned.attendance.makers.flatMap(({ id, met, missed }) =>
      met + missed === 0 ? [] : [{ maker: makers.get(id) ?? '', met, missed }],
    ),
    hoursBehind: hoursBehind(learned.work.entries, moment),
    hoursAhead: hoursAhead(moment),
    ...estimatesOf(learned, handedOver, moment),
  }
}
