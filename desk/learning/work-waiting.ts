import { joined } from '../../core/book/hours-logged.ts'
import { NO_WORK } from '../../core/book/work-done.ts'
import { readyToWorkOn } from '../../core/learning/index.ts'
import type { Interval } from '../../core/planning/index.ts'
import { startOfLocalDay } from '../../core/time/local-day.ts'
import { agreedSpans, type AgreedSpan } from '../../db/agreed-spans.ts'
import { followsLogged } from '../../db/work-logged.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'
import { othersFirst } from '../others-first.ts'
import type { NewestWork } from './newest-work.ts'

/**
 * When some order was agreed and a step of it could be worked on, as far as the work goes back: else there was nothing to do, or all there
 * was to do was to wait. Sorted, disjoint.
 */
export async function workWaiting(shop: OpenShop, newest: NewestWork): Promise<Interval[]> {
  const { timeZone } = shop.almanac.shop
  const spans = await keptUntilMore(shop, 'agreed spans', [timeZone], () =>
    agreedSpans(shop.db, (day) => startOfLocalDay(day, timeZone)),
  )
  const { book, work: workOf } = shop.moment()
  const isOpen = new Set(book.commissions.map(({ id }) => id))
  const closed = await keptUntilMore(shop, 'work that waited', [spans], () =>
    whileOfClosed(shop, newest, spans, isOpen),
  )
  const steps = book.steps.filter(({ lost }) => lost !== true)
  const ready = readyToWorkOn(steps, book.lags, workOf, shop.now)
  const ofOpen = spans.filter(({ commissionId }) => isOpen.has(commissionId))
  return joined([...closed, ...whileAgreed(steps, ready, ofOpen, () => shop.now)])
}

/** The same of orders that are closed: it stays as it was. */
async function whileOfClosed(
  { db, now }: OpenShop,
  newest: NewestWork,
  spans: readonly AgreedSpan[],
  isOpen: ReadonlySet<string>,
): Promise<Interval[]> {
  const closed = newest.steps().filter(({ commissionId }) => !isOpen.has(commissionId))
  const follows = await followsLogged(
    db,
    closed.map(({ id }) => id),
    othersFirst,
  )
  const ready = readyToWorkOn(closed, follows, (id) => newest.at(id)?.work ?? NO_WORK, now)
  const lastDone = lastDoneOf(closed, newest)
  // What is finished may wait long to be fetched; what is canceled was not finished.
  return joined(
    whileAgreed(closed, ready, spans, ({ commissionId, standing }) =>
      standing === 'handed-over' ? (lastDone.get(commissionId) ?? -Infinity) : Infinity,
    ),
  )
}

type StepOfOrder = { readonly id: string; readonly commissionId: string }

function whileAgreed(
  steps: readonly StepOfOrder[],
  ready: ReadonlyMap<string, Interval>,
  spans: readonly AgreedSpan[],
  endOf: (span: AgreedSpan) => number,
): Interval[] {
  const spansOf = Map.groupBy(spans, ({ commissionId }) => commissionId)
  return steps.flatMap(({ id, commissionId }) => {
    const could = ready.get(id)
    if (could === undefined) return []
    return (spansOf.get(commissionId) ?? []).flatMap((span) => {
      const from = Math.max(could.from, span.from)
      const to = Math.min(could.to, span.to ?? Infinity, endOf(span))
      return from < to ? [{ from, to }] : []
    })
  })
}

function lastDoneOf(steps: readonly StepOfOrder[], newest: NewestWork): ReadonlyMap<string, number> {
  const last = new Map<string, number>()
  for (const { id, commissionId } of steps) {
    const done = newest.at(id)?.work.done
    if (done != null) last.set(commissionId, Math.max(last.get(commissionId) ?? -Infinity, done.at))
  }
  return last
}
