import { joined } from '../../core/book/hours-logged.ts'
import { workAt } from '../../core/book/work-done.ts'
import type { Interval } from '../../core/planning/index.ts'
import { startOfLocalDay } from '../../core/time/local-day.ts'
import { agreedSpans } from '../../db/agreed-spans.ts'
import type { WorkLogged } from '../../db/work-logged.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'

/** When some order was agreed and not finished, as far as the work goes back: else there was nothing to do. Sorted, disjoint. */
export async function workWaiting(shop: OpenShop, { steps, entries }: WorkLogged): Promise<Interval[]> {
  const { timeZone } = shop.almanac.shop
  const spans = await keptUntilMore(shop, 'agreed spans', [timeZone], () =>
    agreedSpans(shop.db, (day) => startOfLocalDay(day, timeZone)),
  )
  const orderOf = new Map(steps.map(({ id, commissionId }) => [id, commissionId]))
  const lastDone = new Map<string, number>()
  for (const [stepId, { done }] of workAt(entries)) {
    const order = orderOf.get(stepId)
    if (order !== undefined && done !== null) lastDone.set(order, Math.max(lastDone.get(order) ?? 0, done.at))
  }
  const isLeft = withWorkLeft(shop)
  return joined(
    spans.flatMap(({ commissionId, standing, from, to }) => {
      // What is finished may wait long to be fetched; what is canceled was not finished.
      const isFinished = standing === 'handed-over' || (standing === 'agreed' && !isLeft.has(commissionId))
      const end = Math.min(to ?? shop.now, isFinished ? (lastDone.get(commissionId) ?? Infinity) : Infinity)
      return end > from ? [{ from, to: end }] : []
    }),
  )
}

function withWorkLeft(shop: OpenShop): ReadonlySet<string> {
  const { book, progress } = shop.moment()
  const left = book.steps.filter(({ id, lost }) => lost !== true && progress(id).kind !== 'done')
  return new Set(left.map(({ commissionId }) => commissionId))
}
