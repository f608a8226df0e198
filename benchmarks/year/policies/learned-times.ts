import { standardTimesOf } from '../../../core/almanac/standard-times.ts'
import { joined } from '../../../core/book/hours-logged.ts'
import { NO_WORK, workAt, type StepWork } from '../../../core/book/work-done.ts'
import {
  attendanceFrom,
  estimateTimes,
  mishapsFrom,
  observe,
  pressesOf,
  readyToWorkOn,
} from '../../../core/learning/index.ts'
import type { Interval } from '../../../core/planning/index.ts'
import { DAY_MIN } from '../calendar.ts'
import type { ShopView } from '../lived.ts'
import type { Failure } from '../presses.ts'
import type { Shop } from '../shop.ts'
import type { WorkOrder } from '../work-order.ts'
import type { TimesTold } from './ours.ts'
import { atOnce } from '../../../test/support/at-once.ts'

/** The log is read again so often: a week more of it changes little. */
const EVERY_MIN = 7 * DAY_MIN

/** What the app learns from the log of this shop, followed by itself. */
export function learnedTimes(shop: Shop): (view: ShopView) => TimesTold {
  const orders = new Map<string, WorkOrder>()
  let known: { readonly at: number; readonly times: TimesTold } | null = null
  return (view) => {
    for (const { order } of view.open) orders.set(order.customer.id, order)
    if (known === null || view.now >= known.at + EVERY_MIN) {
      known = { at: view.now, times: knownFrom(forecastFrom(shop, view, [...orders.values()])) }
    }
    return known.times
  }
}

function forecastFrom(
  { almanac, hours, said }: Shop,
  view: ShopView,
  orders: readonly WorkOrder[],
): TimesTold['forecast'] {
  const steps = orders.flatMap(({ book }) => book.steps)
  const times = standardTimesOf(almanac)
  const log = view.wholeLog()
  const works = workAt(log)
  const { observations } = observe(steps, log, (operation) => times.get(operation), { entries: [] }, 'UTC')
  const first = log[0]?.atMin ?? view.now
  return {
    times: atOnce(
      estimateTimes({
        makers: almanac.makers.map(({ id }) => id),
        operations: [...times.values()].map(({ operation, optimisticFactor, pessimisticFactor }) => ({
          ...{ id: operation, optimisticFactor, pessimisticFactor },
        })),
        ...{ observations, said, now: view.now },
      }),
    ),
    attendance: attendanceFrom(
      almanac.makers.map(({ id, attendance }) => ({
        ...{ id, attendance, hoursHeld: null },
        sessions: hours.filter(({ from, to }) => to > first && from < view.now),
        presses: pressesOf(log),
      })),
      workWaiting(orders, works, view.now),
      view.now,
    ),
    mishaps: mishapsFrom(mishapsOf(orders, works, view.failures())),
  }
}

/** Glue-ups and lots that were worked on, and those of them that failed. */
function mishapsOf(
  orders: readonly WorkOrder[],
  works: ReadonlyMap<string, StepWork>,
  failures: readonly Failure[],
): Parameters<typeof mishapsFrom>[0] {
  const lags = orders.flatMap(({ book }) => book.lags)
  const glueUps = new Set(lags.filter(({ wait }) => wait === 'in-clamps').map(({ fromStep }) => fromStep))
  const steps = orders.flatMap(({ book }) => book.steps)
  const begun = new Set(steps.filter(({ id }) => works.has(id)).map(({ pieceId, lot }) => `${pieceId}/${lot}`))
  const failed = (reason: Failure['reason']): number => failures.filter((each) => each.reason === reason).length
  return {
    // What failed is glued up again under its own name.
    gluedUp: { held: [...glueUps].filter((id) => works.get(id)?.done != null).length, failed: failed('glue-up') },
    lots: { begun: begun.size, cracked: failed('crack') },
  }
}

/** When a step of some order could be worked on. */
function workWaiting(
  orders: readonly WorkOrder[],
  works: ReadonlyMap<string, StepWork>,
  now: number,
): readonly Interval[] {
  return joined(
    orders.flatMap(({ askedAt, book: { steps, lags } }) =>
      [...readyToWorkOn(steps, lags, (id) => works.get(id) ?? NO_WORK, now).values()]
        .map(({ from, to }) => ({ from: Math.max(from, askedAt), to }))
        .filter(({ from, to }) => from < to),
    ),
  )
}

/** Plans are made with the times that are expected in the middle. */
function knownFrom(forecast: TimesTold['forecast']): TimesTold {
  const maker = forecast.times.makers[0]?.mean ?? 0
  const operations = new Map(forecast.times.operations.map(({ id, mean }) => [id, mean]))
  return { factor: (operation) => Math.exp(maker + (operations.get(operation) ?? 0)), forecast }
}
