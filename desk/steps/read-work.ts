import type { LoggedStretch } from '../../core/book/book.ts'
import { isThroughTheNight } from '../../core/book/left-running.ts'
import { ok, failed, problem, within, type Problem, type Result } from '../../core/problems.ts'
import { readDuration } from '../../core/time/duration.ts'
import { daysLater, instantOfLocal, isDayOfThisAge } from '../../core/time/local-day.ts'
import { readTimeOfDay } from '../../core/time/time-of-day.ts'
import { writeTime, type Wording } from '../../core/time/write-instant.ts'

/** One stretch of work as it is typed. */
export interface TypedStretch {
  /** `YYYY-MM-DD`. */
  readonly day: string
  /** `7 PM`. */
  readonly from: string
  /** `9 PM`, or how long: `45 min`; empty: it goes on. */
  readonly until: string
  readonly makerId: string | null
}

/** Work that makes sense: what is over, and since when it goes on. */
export interface ReadWork {
  readonly stretches: readonly LoggedStretch[]
  readonly runningSinceMin: number | null
}

/** A night is part of the evening before: who types 1 AM as an end means that of the next day. */
const SMALL_HOURS_MIN = 4 * 60

/**
 * Reads stretches as typed, at `now`, into order of time. Problems name their field: `stretches.0.until`.
 * Codes: `day`, `time-of-day`, `duration-...`, `in-the-future`, `end-before-start`, `through-the-night`, `overlap`, `two-running`.
 */
export function readWork(typed: readonly TypedStretch[], now: number, wording: Wording): Result<ReadWork> {
  const problems: Problem[] = []
  const read = typed.flatMap((each, index) => {
    const one = readStretch(each, now, wording)
    if (one.ok) return [{ ...one.value, index }]
    problems.push(...one.problems.map((found) => within(`stretches.${index}`, found)))
    return []
  })
  const sorted = read.sort((a, b) => a.fromMin - b.fromMin || a.index - b.index)
  for (const [at, later] of sorted.entries()) {
    const before = sorted
      .slice(0, at)
      .find((each) => each.makerId === later.makerId && (each.toMin ?? now) > later.fromMin)
    if (before === undefined) continue
    const range = `${writeTime(before.fromMin, wording)} – ${writeTime(before.toMin ?? now, wording)}`
    problems.push(problem('overlap', `Overlaps ${range}: start it later.`, `stretches.${later.index}.from`))
  }
  const open = sorted.filter(({ toMin }) => toMin === null)
  for (const { index } of open.slice(1))
    problems.push(problem('two-running', 'Only one can still be going on: say until when.', `stretches.${index}.until`))
  if (problems.length > 0) return failed(...problems)
  return ok({
    stretches: sorted.flatMap(({ fromMin, toMin, makerId }) => (toMin === null ? [] : [{ fromMin, toMin, makerId }])),
    runningSinceMin: open[0]?.fromMin ?? null,
  })
}

interface ReadStretch extends Omit<LoggedStretch, 'toMin'> {
  readonly toMin: number | null
}

function readStretch({ day, from, until, makerId }: TypedStretch, now: number, wording: Wording): Result<ReadStretch> {
  const { timeZone } = wording
  if (!isDayOfThisAge(day.trim())) return failed(problem('day', 'Which day? Write it like Tuesday or 12 Dec.', 'day'))
  const start = readTimeOfDay(from)
  if (!start.ok) return failed(problem('time-of-day', 'When did it start? Write it like 7 PM.', 'from'))
  const fromMin = instantOfLocal(day.trim(), start.value, timeZone)
  if (fromMin > now) return failed(inTheFuture('from', now, wording))
  if (until.trim() === '')
    return isThroughTheNight(fromMin, now, timeZone)
      ? failed(problem('through-the-night', 'Until when? A night lies between: write it like 9 PM.', 'until'))
      : ok({ fromMin, toMin: null, makerId })
  const toMin = readEnd(until, day.trim(), fromMin, timeZone)
  if (toMin === null) return failed(problem('time-of-day', 'Until when? Write it like 9 PM or 45 min.', 'until'))
  if (toMin <= fromMin)
    return failed(problem('end-before-start', `Ends before it starts: after ${writeTime(fromMin, wording)}.`, 'until'))
  if (toMin > now) return failed(inTheFuture('until', now, wording))
  if (isThroughTheNight(fromMin, toMin, timeZone))
    return failed(problem('through-the-night', 'Runs past 4 AM: enter each day by itself.', 'until'))
  return ok({ fromMin, toMin, makerId })
}

/** `9 PM`, `1 AM` of the night after, `45 min`; null: none of them. */
function readEnd(text: string, day: string, fromMin: number, timeZone: string): number | null {
  const time = readTimeOfDay(text)
  if (time.ok) {
    const sameDay = instantOfLocal(day, time.value, timeZone)
    const isNightAfter = sameDay <= fromMin && time.value < SMALL_HOURS_MIN
    return isNightAfter ? instantOfLocal(daysLater(day, 1), time.value, timeZone) : sameDay
  }
  const long = readDuration(text, 'min')
  return long.ok ? fromMin + long.value : null
}

const inTheFuture = (field: string, now: number, wording: Wording): Problem =>
  problem('in-the-future', `That is still to come: it is ${writeTime(now, wording)} now.`, field)
