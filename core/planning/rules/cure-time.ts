import { NEVER } from '../problem/instants.ts'
import type { CureClock } from '../problem/model.ts'

/** A cure clock made ready for looking up: progress summed at the start of each segment. */
export interface CureTime {
  readonly from: Float64Array
  readonly rate: Float64Array
  readonly sum: Float64Array
  /** lastBefore[d]: the segment that runs at minute `from[0] + 1440 d`, so that none is far to look for. */
  readonly lastBefore: Int32Array
  /** The least rate that it ever runs at. */
  readonly slowest: number
}

/** Progress within this of the wait counts as over, so that sums of rounded rates do not cost a minute. */
export const CURE_TOLERANCE = 1e-6

const known = new WeakMap<CureClock, CureTime>()

/** Remembered for the clock as long as that lives: it is plain data and never changed. */
export function cureTimeOf(clock: CureClock): CureTime {
  const before = known.get(clock)
  if (before !== undefined) return before
  const time = summed(clock)
  known.set(clock, time)
  return time
}

function summed({ segments }: CureClock): CureTime {
  const from = Float64Array.from(segments, (segment) => segment.from)
  const rate = Float64Array.from(segments, (segment) => segment.rate)
  const sum = new Float64Array(segments.length)
  for (let next = 1; next < segments.length; next++) {
    sum[next] = sum[next - 1]! + rate[next - 1]! * (from[next]! - from[next - 1]!)
  }
  const days = Math.floor(((from[from.length - 1] ?? 0) - (from[0] ?? 0)) / DAY) + 1
  const lastBefore = new Int32Array(days)
  let segment = 0
  for (let day = 0; day < days; day++) {
    while (segment + 1 < from.length && from[segment + 1]! <= from[0]! + day * DAY) segment += 1
    lastBefore[day] = segment
  }
  return { from, rate, sum, lastBefore, slowest: rate.reduce((least, each) => Math.min(least, each), Infinity) }
}

const DAY = 1440

/** The least whole minute at which `minutes` of progress have been made since `start`; NEVER when the clock stands still for good. */
export function cureOver(clock: CureTime, start: number, minutes: number): number {
  if (minutes <= 0) return start + minutes
  const { from, rate, sum } = clock
  let segment = segmentAt(clock, start)
  const target = sum[segment]! + rate[segment]! * (start - from[segment]!) + minutes - CURE_TOLERANCE
  while (segment + 1 < from.length && sum[segment + 1]! < target) segment += 1
  if (rate[segment]! <= 0) return NEVER
  const over = Math.ceil(from[segment]! + (target - sum[segment]!) / rate[segment]!)
  return over < NEVER ? Math.max(over, start) : NEVER
}

/**
 * The least whole minute at which a wait of `minutes` may begin and not be over before `over`: what begins sooner is over sooner.
 */
export function cureBegun(clock: CureTime, over: number, minutes: number): number {
  if (minutes <= 0) return over - minutes
  const { from, rate, sum } = clock
  // What begins when no more than this had run on the clock is over a minute before `over`.
  let segment = segmentAt(clock, over - 1)
  const left = sum[segment]! + rate[segment]! * (over - 1 - from[segment]!) - minutes + CURE_TOLERANCE
  while (segment > 0 && sum[segment]! > left) segment -= 1
  const since = rate[segment]! > 0 ? (left - sum[segment]!) / rate[segment]! : 0
  let begun = Math.floor(from[segment]! + since)
  while (cureOver(clock, begun, minutes) < over) begun += 1
  return begun
}

/** The segment that runs at an instant; the first one for what is before all of them. */
function segmentAt({ from, lastBefore }: CureTime, instant: number): number {
  const day = Math.floor((instant - from[0]!) / DAY)
  let segment = day < 0 ? 0 : lastBefore[Math.min(day, lastBefore.length - 1)]!
  while (segment + 1 < from.length && from[segment + 1]! <= instant) segment += 1
  return segment
}
