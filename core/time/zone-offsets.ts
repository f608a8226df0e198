import { tzOffset } from '@date-fns/tz'

/**
 * The offsets from UTC of one time zone over a stretch of the plan line: sorted, without gaps, the first one starting at
 * or before the asked stretch. Local civil minutes = instant + offset, in minutes since the epoch both.
 */
export type ZoneOffsets = readonly OffsetSpan[]

export interface OffsetSpan {
  /** Instant from which it holds, whole minutes since the Unix epoch. */
  readonly from: number
  /** Minutes ahead of UTC. */
  readonly offset: number
}

/**
 * Looks the offset up once a week and closes in on each change, so that years cost a few milliseconds. Two changes within
 * one week would be missed; no zone has done that since 1970.
 * @param timeZone IANA name, valid by `isTimeZone`
 * @param from first instant asked for, minutes since the Unix epoch
 * @param to end of the asked stretch, exclusive
 */
export function zoneOffsets(timeZone: string, from: number, to: number): ZoneOffsets {
  const look = (instant: number): number => offsetAt(timeZone, instant)
  const start = from - MARGIN
  const spans: OffsetSpan[] = [{ from: start, offset: look(start) }]
  for (let known = start; known < to + MARGIN; known += WEEK) {
    const before = spans.at(-1)?.offset ?? 0
    const after = look(known + WEEK)
    if (after !== before) spans.push({ from: changeBetween(look, known, known + WEEK), offset: after })
  }
  return spans
}

/**
 * Minutes ahead of UTC that hold at an instant (whole minutes since the Unix epoch). Each week of a zone is looked up once: after years
 * thousands of instants are told as days, and the zone's data would take longer than all else.
 */
export function offsetAt(timeZone: string, instant: number): number {
  let weeks = weeksOf.get(timeZone)
  if (weeks === undefined) weeksOf.set(timeZone, (weeks = new Map<number, OneWeek>()))
  const number = Math.floor(instant / WEEK)
  let week = weeks.get(number)
  if (week === undefined) weeks.set(number, (week = lookedUpWeek(timeZone, number * WEEK)))
  return instant < week.changesAt ? week.before : week.after
}

/** Offsets of a week, which has one change at most. */
interface OneWeek {
  readonly before: number
  /** Instant of the first minute after it; Infinity: there is none. */
  readonly changesAt: number
  readonly after: number
}

const weeksOf = new Map<string, Map<number, OneWeek>>()

function lookedUpWeek(timeZone: string, from: number): OneWeek {
  const look = (instant: number): number => Math.round(tzOffset(timeZone, new Date(instant * 60_000)))
  const [before, after] = [look(from), look(from + WEEK)]
  return { before, after, changesAt: before === after ? Infinity : changeBetween(look, from, from + WEEK) }
}

/**
 * The first instant at which the wall clock has reached a local civil time (minutes since 1970-01-01 00:00 local). So a
 * time that the clock skips in spring is the moment of the jump, and one that it shows twice in autumn is the first of both.
 */
export function firstReached(offsets: ZoneOffsets, local: number): number {
  for (const [index, span] of offsets.entries()) {
    const instant = Math.max(span.from, local - span.offset)
    const end = offsets[index + 1]?.from ?? Infinity
    if (instant < end) return instant
  }
  return local - (offsets.at(-1)?.offset ?? 0)
}

/** Whether the IANA name is known to this machine's time zone data. */
export function isTimeZone(name: string): boolean {
  if (!/^[A-Za-z]/.test(name)) return false
  try {
    new Intl.DateTimeFormat('en-US', { timeZone: name })
    return true
  } catch {
    return false
  }
}

const WEEK = 7 * 24 * 60
/** Offsets are less than a day; two days also cover the neighbouring local days. */
const MARGIN = 2 * 24 * 60

function changeBetween(look: (instant: number) => number, before: number, after: number): number {
  const offsetBefore = look(before)
  let [low, high] = [before, after]
  while (high - low > 1) {
    const middle = low + Math.floor((high - low) / 2)
    if (look(middle) === offsetBefore) low = middle
    else high = middle
  }
  return high
}
