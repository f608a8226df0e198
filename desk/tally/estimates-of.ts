import { progressOf } from '../../core/book/step-progress.ts'
import { setUpWorked } from '../../core/book/work-done.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { estimateSums, type EstimateSum } from '../../core/tally/estimates.ts'
import type { HandedOver } from '../../db/finished-orders.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { SeenAtWork } from '../learning/learned.ts'
import { whileOver } from '../learning/newest-work.ts'
import type { Moment } from '../moment.ts'

/** Estimated against real time, as far as it is known. */
export interface Estimates {
  /** The newest order first. */
  readonly byOrder: readonly (EstimateSum & { readonly number: number; readonly customer: string })[]
  readonly byConstruction: readonly (EstimateSum & { readonly name: string })[]
  /** Steps that were done, but of which nobody knows how long they took. */
  readonly stepsLeftOut: number
}

/** Orders shown: what is older says little of how estimates are now. */
const ORDERS_SHOWN = 12

/** Estimated beside real minutes, of steps whose time the log knows. */
export const estimatesOf = (
  seen: SeenAtWork,
  handedOver: readonly HandedOver[],
  { almanac }: Pick<Moment, 'almanac'>,
): Estimates =>
  whileOver(seen.newest.over, 'estimates', [seen.observed, handedOver, almanac], () =>
    foundIn(seen, handedOver, almanac),
  )

function foundIn({ newest, observed }: SeenAtWork, handedOver: readonly HandedOver[], almanac: Almanac): Estimates {
  const progress = progressOf(newest.entries())
  const leftOut = new Set(observed.leftOut.map(({ stepId }) => stepId))
  const done = newest.all().flatMap(({ step, work }) => {
    const how = progress.get(step.id)
    return how?.kind === 'done' ? [{ step, work, workedMin: how.workedMin }] : []
  })
  const known = done.filter(({ step }) => !leftOut.has(step.id))
  const timed = known.map(({ step, work, workedMin }) => ({
    step,
    workedMin,
    estimatedMin: step.minutes + setUpWorked(step, work),
  }))
  const orders = new Map(handedOver.map((order) => [order.commissionId, order]))
  return {
    byOrder: estimateSums(timed.map((each) => ({ ...each, of: each.step.commissionId })))
      .flatMap((sum) => {
        const order = orders.get(sum.of)
        return order === undefined ? [] : [{ ...sum, number: order.number, customer: order.customer }]
      })
      .sort((a, b) => b.number - a.number)
      .slice(0, ORDERS_SHOWN),
    byConstruction: estimateSums(timed.map((each) => ({ ...each, of: each.step.construction })))
      .map((sum) => ({ ...sum, name: constructionOf(sum.of, almanac.constructions)?.name ?? sum.of }))
      .sort((a, b) => b.workedMin - a.workedMin),
    stepsLeftOut: done.length - known.length,
  }
}
