import { NEVER } from './instants.ts'
import type { CureClock } from './model.ts'

/** A cure clock made ready for looking up: progress summed at the start of each segment. */
export interface CureTime {
  readonly from: Float64Array
  readonly rate: Float64Array
  readonly sum: Float64Array
}

/** Progress within this of the wait counts as over, so that sums of rounded rates do not cost a minute. */
export const CURE_TOLERANCE = 1e-6

export function cureTimeOf(clock: CureClock): CureTime {
  const { segments } = clock
  const from = Float64Array.from(segments, (segment) => segment.from)
  const rate = Float64Array.from(segments, (segment) => segment.rate)
  const sum = new Float64Array(segments.length)
  for (let next = 1; next < segments.length; next++) {
    sum[next] = sum[next - 1]! + rate[next - 1]! * (from[next]! - from[next - 1]!)
  }
  return { from, rate, sum }
}

/** The least whole minute at which `minutes` of progress have been made since `start`; NEVER when the clock stands still for good. */
export function cureOver(clock: CureTime, start: number, minutes: number): number {
  if (minutes <= 0) return start + minutes
  const { from, rate, sum } = clock
  let segment = lastAtOrBefore(from, start)
  const target = sum[segment]! + rate[segment]! * (start - from[segment]!) + minutes - CURE_TOLERANCE
  while (segment + 1 < from.length && sum[segment + 1]! < target) segment += 1
  if (rate[segment]! <= 0) return NEVER
  const over = Math.ceil(from[segment]! + (target - sum[segment]!) / rate[segment]!)
  return over < NEVER ? Math.max(over, start) : NEVER
}

/** Index of the last entry <= value; 0 when all are later. */
function lastAtOrBefore(sorted: Float64Array, value: number): number {
  let low = 0
  let high = sorted.length
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (sorted[middle]! <= value) low = middle
    else high = middle
  }
  return low
}
