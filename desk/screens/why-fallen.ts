import type { Commission } from '../../core/book/book.ts'
import { hoursOfBook } from '../../core/book/hours-logged.ts'
import { standingPromise } from '../../core/book/promise.ts'
import { durationWords } from '../../core/time/duration.ts'
import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import { writeDay, writeLocalDay } from '../../core/time/write-instant.ts'
import type { HoursHeld } from '../../db/hours-held.ts'
import type { LogEntry } from '../../db/log.ts'
import type { Moment } from '../moment.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import { untimedWords } from '../untimed-words.ts'

/** Minutes over the estimate of a step that are worth telling. */
const LEAST_OVER_MIN = 15
const DAY_MIN = 1440

/** What the log says beyond the moment. */
export interface SaidInLog {
  /** Of the order, oldest first. */
  readonly entries: readonly LogEntry[]
  /** When each maker's hours were what they are. */
  readonly hoursHeld: HoursHeld
}

/** What has happened in the shop since an order was promised that costs its chance, as sentences, what weighs most first. */
export function whyFallen(commission: Commission, moment: Moment, said: SaidInLog): string[] {
  const promise = standingPromise(commission, moment.book.promises)
  if (promise === null) return []
  const since = Math.floor(promise.givenAtMs / 60_000)
  const over = overEstimates(since, moment)
  const taken = moment.book.commissions.filter(
    ({ id, standing, takenAtMin }) => id !== commission.id && standing === 'agreed' && takenAtMin > since,
  )
  const hoursChanged = changedSince(since, said.hoursHeld)
  return [
    ...failuresOf(commission, since, moment),
    ...lateLumber(commission, since, said.entries, moment),
    ...daysMissedInWords(since, said.hoursHeld, moment),
    ...(over.minutes < LEAST_OVER_MIN
      ? []
      : [`Steps ran ${durationWords(over.minutes)} over their estimates${untimedWords(over.untimed)}.`]),
    ...(taken.length === 0 ? [] : [`${ordersInWords(taken.map(({ number }) => number))} taken since.`]),
    ...(hoursChanged !== null ? [`Shop hours changed on ${writeDay(hoursChanged, moment.wording)}.`] : []),
  ]
}

/** When hours came to be others than they were then, for good; null: they are the same, though they may have been others between. */
function changedSince(then: number, held: HoursHeld): number | null {
  const changes = [...held.values()].flatMap((stretches) =>
    stretches.some(({ from, to }) => from <= then && then < to) ? [] : stretches.at(-1)!.from,
  )
  return changes.length === 0 ? null : Math.max(...changes)
}

/** "Failed on Tue, Mar 10: glue the shelf." */
function failuresOf(commission: Commission, since: number, { book, step, wording }: Moment): readonly string[] {
  const lines = book.log.flatMap(({ stepId, atMin, action }) => {
    const failed = action.kind === 'failed' && atMin > since ? step(stepId) : undefined
    return failed?.commissionId === commission.id
      ? [`Failed on ${writeDay(atMin, wording)}: ${failed.name.toLowerCase()}.`]
      : []
  })
  return [...new Set(lines)]
}

/** Wood that came, or is expected, later than the first day that was said for it; of what nobody said a day for nothing can be told. */
function lateLumber(
  { lumber }: Commission,
  since: number,
  entries: readonly LogEntry[],
  { today, almanac, wording: { locale } }: Moment,
): string[] {
  const { expectedOn, hereOn, from } = lumber
  const saidBefore = entries.flatMap(({ atMs, counts, event }) =>
    counts && event.kind === 'rows' && atMs > since * 60_000
      ? event.changes.flatMap(({ before }) => (before?.['lumber_expected_on'] as LocalDay | null | undefined) ?? [])
      : [],
  )
  const first = saidBefore[0] ?? expectedOn
  if (first === null || from === 'shop') return []
  const say = (day: LocalDay): string => writeLocalDay(day, locale)
  if (hereOn !== null) {
    const isSince = hereOn >= localDay(since, almanac.shop.timeZone)
    return hereOn > first && isSince ? [`Lumber came on ${say(hereOn)}, expected on ${say(first)}.`] : []
  }
  if (expectedOn !== null && expectedOn > first) return [`Lumber is expected on ${say(expectedOn)}, was ${say(first)}.`]
  return today > first ? [`Lumber was expected on ${say(first)} and isn’t here.`] : []
}

/** Days with hours in the shop, all of them over, on which nobody logged anything; as far back as the log of closed orders was read. */
function daysMissedInWords(since: number, hoursHeld: HoursHeld, moment: Moment): string[] {
  const { almanac, book, now, setting, wording } = moment
  const { timeZone } = almanac.shop
  const read = book.latelySince ?? -Infinity
  // Of the day within which the reading begins only a part is known.
  const from = read <= since ? since : setting.endOfDay(localDay(read, timeZone))
  const sessions = almanac.makers.flatMap((maker) => {
    const held = hoursHeld.get(maker.id)
    const hours = workingHours(timeZone, maker, almanac.specialDays, from - DAY_MIN, now + DAY_MIN)
    return hours.filter(
      (session) =>
        session.from >= from && (held?.some((each) => each.from <= session.from && session.to <= each.to) ?? true),
    )
  })
  const { stretches } = hoursOfBook(book, now)
  const logged = [...book.log, ...(book.lately ?? [])]
  const missed = [...Map.groupBy(sessions, (session) => localDay(session.from, timeZone))].filter(([day, own]) => {
    const [begins, ends] = [setting.startOfDay(day), setting.endOfDay(day)]
    return (
      own.every((session) => session.to <= now) &&
      !logged.some(({ atMin }) => begins <= atMin && atMin < ends) &&
      !stretches.some((stretch) => stretch.from < ends && stretch.to > begins)
    )
  }).length
  if (missed === 0) return []
  const days = missed === 1 ? '1 shop day' : `${missed} shop days`
  return [`No work logged on ${days}${from === since ? '' : ` since ${writeDay(from, wording)}`}.`]
}

/**
 * Minutes that steps finished since an instant took beyond their estimates; what went quicker counts against it. How long a step took
 * that was done without a start or a time nobody knows: it is only counted.
 */
function overEstimates(since: number, moment: Moment): { minutes: number; untimed: number } {
  const over = { minutes: 0, untimed: 0 }
  for (const step of moment.book.steps) {
    const progress = moment.progress(step.id)
    if (progress.kind !== 'done' || progress.endedAt <= since) continue
    if (progress.workedMin < 1) over.untimed += 1
    else over.minutes += progress.workedMin - step.minutes - setUpMinutes(step, moment)
  }
  return over
}

const ordersInWords = (numbers: readonly number[]): string =>
  numbers.length === 1
    ? `No. ${numbers[0]} was`
    : `${numbers.length} orders (${numbers.map((number) => `no. ${number}`).join(', ')}) were`
