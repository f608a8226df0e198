import { rateAt } from './cure-rate.ts'
import { classOf, type ClockName, type Product } from './product.ts'
import type { ClimateSegment } from './temperature-profile.ts'

/** From the instant `from` (minutes) a wait progresses by `rate` per elapsed minute, until the next segment. */
export interface RateSegment {
  readonly from: number
  readonly rate: number
}

/**
 * The shop's air turned into how fast a product's wait progresses: sorted segments, the last one for ever. This is what the
 * planner adds up, so that a cold night stops a cure and a plan in January differs from one in July.
 * @param clock which wait; `clampsOff` of a glue and `recoatOpens` of a finish stand for all whose rate is the same
 */
export function cureClock(
  product: Product,
  profile: readonly ClimateSegment[],
  clock: ClockName = classOf(product)?.kind === 'finish' ? 'recoatOpens' : 'clampsOff',
): readonly RateSegment[] {
  const segments: RateSegment[] = []
  for (const air of profile) {
    const rate = rateAt(product, clock, air.celsius, air.rh)
    if (segments.at(-1)?.rate !== rate) segments.push({ from: air.from, rate })
  }
  return segments
}

/**
 * The first whole minute at which a wait of so many reference minutes that began at `startMin` is over; null when it never is,
 * because the last segment stands still. Before the first segment time counts at its rate.
 */
export function readyAt(startMin: number, referenceMin: number, segments: readonly RateSegment[]): number | null {
  let left = referenceMin
  let at = startMin
  for (let index = segmentAt(segments, startMin); left > EXACT; index++) {
    const rate = segments[index]?.rate ?? 1
    const until = segments[index + 1]?.from ?? Infinity
    const here = rate * (until - at)
    if (rate > 0 && here >= left - EXACT) return Math.ceil(at + left / rate - EXACT)
    if (until === Infinity) return null
    left -= here
    at = until
  }
  return at
}

/** Reference minutes of progress between two instants: what the rack shows as "so much of it is done". */
export function progressBetween(fromMin: number, toMin: number, segments: readonly RateSegment[]): number {
  let progress = 0
  let at = fromMin
  for (let index = segmentAt(segments, fromMin); at < toMin; index++) {
    const until = Math.min(toMin, segments[index + 1]?.from ?? Infinity)
    progress += (segments[index]?.rate ?? 1) * (until - at)
    at = until
  }
  return progress
}

/** Sums of rates are not exact in binary: a millionth of a minute is nothing. */
const EXACT = 1e-6

/** Position of the segment that holds an instant; the first one also holds what lies before it. */
function segmentAt(segments: readonly RateSegment[], instant: number): number {
  let low = 0
  let high = segments.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((segments[middle]?.from ?? Infinity) <= instant) low = middle
    else high = middle - 1
  }
  return Math.max(0, low)
}
