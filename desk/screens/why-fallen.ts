import type { Commission } from '../../core/book/book.ts'
import { standingPromise } from '../../core/book/promise.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import type { Interval } from '../../core/planning/index.ts'
import type { Moment } from '../moment.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import { untimedWords } from '../untimed-words.ts'
import { durationWords } from '../../core/time/duration.ts'

/** Minutes over the estimate of a step that are worth telling. */
const LEAST_OVER_MIN = 15

/** What has happened in the shop since an order was promised that costs its chance, as sentences, what weighs most first. */
export function whyFallen(commission: Commission, moment: Moment): string[] {
  const promise = standingPromise(commission, moment.book.promises)
  return promise === null ? [] : whatCameBetween(commission, Math.floor(promise.givenAtMs / 60_000), moment.now, moment)
}

/** The same between two instants, whole minutes since the Unix epoch. */
function whatCameBetween(commission: Commission, from: number, to: number, moment: Moment): string[] {
  const missed = sessionsMissed(from, to, moment).length
  const over = overEstimates(from, to, moment)
  const taken = moment.book.commissions.filter(
    (other) =>
      other.id !== commission.id && other.standing === 'agreed' && other.takenAtMin > from && other.takenAtMin <= to,
  )
  return [
    ...(missed === 0 ? [] : [`No work logged on ${missed} ${missed === 1 ? 'shop day' : 'shop days'}.`]),
    ...(over.minutes < LEAST_OVER_MIN
      ? []
      : [`Steps ran ${durationWords(over.minutes)} over their estimates${untimedWords(over.untimed)}.`]),
    ...(taken.length === 0 ? [] : [`${ordersInWords(taken.map(({ number }) => number))} taken since.`]),
  ]
}

/** Sessions of the almanac that are over and in which nothing was logged. */
function sessionsMissed(from: number, to: number, { almanac, book }: Moment): Interval[] {
  const sessions = almanac.makers.flatMap((maker) =>
    workingHours(almanac.shop.timeZone, maker, almanac.specialDays, from, to),
  )
  const at = [...book.log, ...(book.lately ?? [])].map(({ atMin }) => atMin)
  return sessions.filter(
    (session) =>
      session.from >= from && session.to <= to && !at.some((each) => session.from <= each && each <= session.to),
  )
}

/**
 * Minutes that steps finished in the meantime took beyond their estimates; what went quicker counts against it. How long a step took
 * that was done without a start or a time nobody knows: it is only counted.
 */
function overEstimates(from: number, to: number, moment: Moment): { minutes: number; untimed: number } {
  const over = { minutes: 0, untimed: 0 }
  for (const step of moment.book.steps) {
    const progress = moment.progress(step.id)
    if (progress.kind !== 'done' || progress.endedAt <= from || progress.endedAt > to) continue
    if (progress.workedMin < 1) over.untimed += 1
    else over.minutes += progress.workedMin - step.minutes - setUpMinutes(step, moment)
  }
  return over
}

const ordersInWords = (numbers: readonly number[]): string =>
  numbers.length === 1
    ? `No. ${numbers[0]} was`
    : `${numbers.length} orders (${numbers.map((number) => `no. ${number}`).join(', ')}) were`
