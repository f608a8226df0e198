import { NEVER } from '../problem/instants.ts'
import type { Interval } from '../problem/model.ts'

/** The sessions in which one maker, or several makers at the same time, can work: typed, merged and quick to look up. */
export interface Sessions {
  readonly count: number
  readonly from: Int32Array
  readonly to: Int32Array
  /** Working minutes before each session opens. */
  readonly sum: Int32Array
  /** Length of the longest of each session and all after it; 0 behind the last. */
  readonly longest: Int32Array
  /** firstOfDay[d]: first session that ends after minute `origin + 1440 d`. */
  readonly firstOfDay: Int32Array
  readonly origin: number
}

const DAY = 1440

const known = new WeakMap<readonly Interval[], Sessions>()

/**
 * Remembered for the list of hours as long as that lives: lists are plain data and never changed.
 * @param hours sorted and disjoint; those that touch become one session
 */
export function sessionsOf(hours: readonly Interval[]): Sessions {
  const before = known.get(hours)
  if (before !== undefined) return before
  const sessions = merged(hours)
  known.set(hours, sessions)
  return sessions
}

function merged(hours: readonly Interval[]): Sessions {
  const opens = new Int32Array(hours.length)
  const closes = new Int32Array(hours.length)
  let count = 0
  for (const interval of hours) {
    if (count > 0 && closes[count - 1] === interval.from) closes[count - 1] = interval.to
    else {
      opens[count] = interval.from
      closes[count] = interval.to
      count += 1
    }
  }
  const from = opens.subarray(0, count)
  const to = closes.subarray(0, count)
  const origin = from[0] ?? 0
  const days = Math.ceil(((to[count - 1] ?? origin) - origin) / DAY)
  const firstOfDay = new Int32Array(days + 1)
  let session = 0
  for (let day = 0; day <= days; day++) {
    while (session < count && to[session]! <= origin + day * DAY) session += 1
    firstOfDay[day] = session
  }
  const sum = new Int32Array(count)
  for (let next = 1; next < count; next++) sum[next] = sum[next - 1]! + to[next - 1]! - from[next - 1]!
  const longest = new Int32Array(count + 1)
  for (let at = count - 1; at >= 0; at--) longest[at] = Math.max(longest[at + 1]!, to[at]! - from[at]!)
  return { count, from, to, sum, longest, firstOfDay, origin }
}

/** When all of them are in the shop. */
export function commonSessions(all: readonly Sessions[]): Sessions {
  const [first, ...others] = all
  if (first === undefined) return merged([])
  if (others.length === 0) return first
  let common: Interval[] = Array.from(first.from, (from, session) => ({ from, to: first.to[session]! }))
  for (const other of others) {
    const both: Interval[] = []
    let session = 0
    for (const interval of common) {
      while (session < other.count && other.to[session]! <= interval.from) session += 1
      for (let next = session; next < other.count && other.from[next]! < interval.to; next++) {
        both.push({ from: Math.max(interval.from, other.from[next]!), to: Math.min(interval.to, other.to[next]!) })
      }
    }
    common = both
  }
  return merged(common)
}

/** When all of them are in the shop and the air allows the work. @param allowed null: at any time */
export const sessionsWithin = (all: readonly Sessions[], allowed: Sessions | null): Sessions =>
  commonSessions(allowed === null ? all : [...all, allowed])

/** The session that runs at `instant` or comes next; `count` when there is none. */
export function sessionAt(sessions: Sessions, instant: number): number {
  const { to, firstOfDay, origin, count } = sessions
  if (instant <= origin) return 0
  const day = Math.floor((instant - origin) / DAY)
  if (day >= firstOfDay.length) return count
  let session = firstOfDay[day]!
  while (session < count && to[session]! <= instant) session += 1
  return session
}

/** Working minutes from the first session to the instant. */
export function workUntil(sessions: Sessions, instant: number): number {
  const { from, to, sum, count } = sessions
  const session = sessionAt(sessions, instant)
  if (session < count) return sum[session]! + Math.max(0, instant - from[session]!)
  return count === 0 ? 0 : sum[count - 1]! + to[count - 1]! - from[count - 1]!
}

/**
 * When work that begins at `start`, inside `session`, is finished if it goes on through the following sessions, leaving
 * out those that are too short for the smallest stretch; NEVER when the sessions run out.
 */
export function endOfWork(
  sessions: Sessions,
  session: number,
  start: number,
  minutes: number,
  smallest: number,
): number {
  const { from, to, count } = sessions
  let left = minutes - (to[session]! - start)
  if (left <= 0) return start + minutes
  for (let next = session + 1; next < count; next++) {
    const length = to[next]! - from[next]!
    if (length >= left) return from[next]! + left
    if (length >= smallest) left -= length
  }
  return NEVER
}

/** The stretches of such work, written to `into` as from, to, from, to...; returns how many numbers were written. */
export function stretchesOfWork(
  sessions: Sessions,
  start: number,
  minutes: number,
  smallest: number,
  into: number[],
): number {
  const { from, to, count } = sessions
  let left = minutes
  let written = 0
  for (let session = sessionAt(sessions, start); session < count && left > 0; session++) {
    const begin = Math.max(start, from[session]!)
    const length = Math.min(left, to[session]! - begin)
    if (length < left && length < smallest) continue
    into[written++] = begin
    into[written++] = begin + length
    left -= length
  }
  return written
}

/**
 * The latest start of `minutes` of work that is finished at `end`, or at the last closing before it; sessions that are
 * too short for a smallest stretch are counted in. `EARLIEST` sessions are not looked behind.
 */
export function startOfWorkBefore(sessions: Sessions, end: number, minutes: number): number {
  const { from, to } = sessions
  let session = sessionAt(sessions, end)
  if (session >= sessions.count || from[session]! >= end) session -= 1
  let left = minutes
  for (; session >= 0; session--) {
    const length = Math.min(end, to[session]!) - from[session]!
    if (length >= left) return Math.min(end, to[session]!) - left
    left -= length
  }
  return from[0] ?? end
}

/** Length of the longest session that ends after `instant`, of what is left of it; 0 when there is none. */
export function longestSessionAfter(sessions: Sessions, instant: number): number {
  const { from, to, longest, count } = sessions
  const session = sessionAt(sessions, instant)
  if (session >= count || from[session]! >= instant) return longest[session]!
  return Math.max(to[session]! - instant, longest[session + 1]!)
}
