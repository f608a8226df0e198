import { rateAt } from './cure-rate.ts'
import type { ClockName, Product } from './product.ts'
import type { ClimateSegment, WorkingInterval } from './temperature-profile.ts'

/** From the instant `from` (minutes) a wait progresses by `rate` per elapsed minute, until the next segment. */
export interface RateSegment {
  readonly from: number
  readonly rate: number
}

/**
 * The shop's air turned into how fast a product's wait progresses: sorted segments, the last one for ever. This is what the
 * planner adds up, so that a cold night stops a cure and a plan in January differs from one in July.
 */
export function cureClock(
  product: Product,
  profile: readonly ClimateSegment[],
  clock: ClockName,
): readonly RateSegment[] {
  const segments: RateSegment[] = []
  const known = new Map<string, number>()
  for (const air of profile) {
    const name = `${air.celsius} ${air.rh}`
    const rate = known.get(name) ?? rateAt(product, clock, air.celsius, air.rh)
    known.set(name, rate)
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

/**
 * The same clock in fewer segments: between one step and the next the mean rate, so that nothing of the progress is lost or
 * gained from step to step. After the last step counts the mean up to the last segment.
 * @param steps sorted instants; the first of them begins the clock
 */
export function meanRates(segments: readonly RateSegment[], steps: readonly number[]): readonly RateSegment[] {
  const end = Math.max(segments.at(-1)?.from ?? 0, (steps.at(-1) ?? 0) + 1)
  const means: RateSegment[] = []
  for (const [at, from] of steps.entries()) {
    const to = steps[at + 1] ?? end
    const rate = progressBetween(from, to, segments) / (to - from)
    if (means.at(-1)?.rate !== rate) means.push({ from, rate })
  }
  return means
}

/** The stretches between two instants in which nothing progresses, joined. */
export function standstills(
  fromMin: number,
  toMin: number,
  segments: readonly RateSegment[],
): readonly WorkingInterval[] {
  const still: { from: number; to: number }[] = []
  for (let index = segmentAt(segments, fromMin); index < segments.length; index++) {
    const from = Math.max(fromMin, index === 0 ? -Infinity : (segments[index]?.from ?? 0))
    const to = Math.min(toMin, segments[index + 1]?.from ?? Infinity)
    if (from >= toMin) break
    if (segments[index]?.rate !== 0 || from >= to) continue
    const last = still.at(-1)
    if (last?.to === from) last.to = to
    else still.push({ from, to })
  }
  return still
}

/** From when on it progresses again: `fromMin` itself where it does then; null: never. */
export function goesOnAt(fromMin: number, segments: readonly RateSegment[]): number | null {
  const now = segmentAt(segments, fromMin)
  if ((segments[now]?.rate ?? 1) > 0) return fromMin
  return segments.slice(now + 1).find(({ rate }) => rate > 0)?.from ?? null
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
