import { standardTimesOf } from '../../../core/almanac/standard-times.ts'
import { attendanceFrom, estimateTimes, observe, pressesOf, PRIOR_MISHAPS } from '../../../core/learning/index.ts'
import type { BookStep } from '../../../core/book/book.ts'
import { DAY_MIN } from '../calendar.ts'
import type { ShopView } from '../lived.ts'
import type { Shop } from '../shop.ts'
import type { TimesTold } from './ours.ts'

/** The log is read again so often: a week more of it changes little. */
const EVERY_MIN = 7 * DAY_MIN

/** What the app learns from the log of this shop, followed by itself. */
export function learnedTimes(shop: Shop): (view: ShopView) => TimesTold {
  const steps = new Map<string, BookStep>()
  let known: { readonly at: number; readonly times: TimesTold } | null = null
  return (view) => {
    for (const { order } of view.open) for (const step of order.book.steps) steps.set(step.id, step)
    if (known === null || view.now >= known.at + EVERY_MIN) {
      known = { at: view.now, times: knownFrom(forecastFrom(shop, view, [...steps.values()])) }
    }
    return known.times
  }
}

function forecastFrom({ almanac, hours }: Shop, view: ShopView, steps: readonly BookStep[]): TimesTold['forecast'] {
  const times = standardTimesOf(almanac)
  const log = view.wholeLog()
  const { observations } = observe(steps, log, (operation) => times.get(operation), { entries: [] }, 'UTC')
  const first = log[0]?.atMin ?? view.now
  return {
    times: estimateTimes({
      makers: almanac.makers.map(({ id }) => id),
      operations: [...times.values()].map(({ operation, optimisticFactor, pessimisticFactor }) => ({
        ...{ id: operation, optimisticFactor, pessimisticFactor },
      })),
      ...{ observations, said: [], now: view.now },
    }),
    attendance: attendanceFrom(
      almanac.makers.map(({ id, attendance }) => ({
        ...{ id, attendance, hoursSince: -Infinity },
        sessions: hours.filter(({ from, to }) => to > first && from < view.now),
        presses: pressesOf(log),
      })),
      // These shops always have something to do.
      [{ from: -Infinity, to: view.now }],
      view.now,
    ),
    mishaps: PRIOR_MISHAPS,
  }
}

/** Plans are made with the times that are expected in the middle. */
function knownFrom(forecast: TimesTold['forecast']): TimesTold {
  const maker = forecast.times.makers[0]?.mean ?? 0
  const operations = new Map(forecast.times.operations.map(({ id, mean }) => [id, mean]))
  return { factor: (operation) => Math.exp(maker + (operations.get(operation) ?? 0)), forecast }
}
