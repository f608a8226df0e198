import { alongStays, type Stay } from '../book/stays.ts'
import type { CureClock, WaitKind } from '../planning/index.ts'
import { cureClock, meanRates, type RateSegment } from '../waits/cure-clock.ts'
import { rateAt } from '../waits/cure-rate.ts'
import type { ClockName } from '../waits/product.ts'
import type { AirAhead } from './air-ahead.ts'
import type { Almanac } from './almanac.ts'

/**
 * The clock on which a wait for a glue or finish runs in this shop's air, for the planner. A product that the almanac
 * does not list (any more) runs on plain elapsed time.
 * @param product id of a glue or finish of the almanac
 * @param stays places where the piece has been, or will be; in each of them the clock goes at the rate of its air
 */
export function cureClockOf(
  almanac: Almanac,
  product: string,
  wait: WaitKind,
  air: AirAhead,
  stays: readonly Stay[] = [],
): CureClock {
  const id = clockId(product, wait, stays)
  const found = [...almanac.glues, ...almanac.finishes].find((one) => one.id === product)
  if (found === undefined) return { id, segments: [{ from: 0, rate: 1 }] }
  const slower = ownFactor(almanac, product, wait)
  const hourly = slowed(cureClock(found, air.hours, CLOCK_OF_WAIT[wait]), slower)
  const inShop = air.steps === null ? hourly : meanRates(hourly, air.steps)
  const segments = alongStays(inShop, stays, (id) => {
    const place = almanac.places.find((one) => one.id === id)
    return place === undefined
      ? null
      : [{ from: 0, rate: rateAt(found, CLOCK_OF_WAIT[wait], place.celsius, place.rh) / slower }]
  })
  return { id, segments }
}

/** How many times as long it takes here, where the maker goes by what was found. */
const ownFactor = ({ ownWaits }: Almanac, product: string, wait: WaitKind): number =>
  ownWaits.find((one) => one.product === product && one.wait === wait && one.use === 'own')?.factor ?? 1

const slowed = (segments: readonly RateSegment[], factor: number): readonly RateSegment[] =>
  factor === 1 ? segments : segments.map(({ from, rate }) => ({ from, rate: rate / factor }))

/** Names a clock: one product, kind of wait and way of the piece has one. */
export const clockId = (product: string, wait: WaitKind, stays: readonly Stay[]): string =>
  [product, wait, ...stays.map(({ from, place }) => `${from}@${place ?? 'shop'}`)].join(' ')

/** Whose rate a wait has: glue in clamps sets, cured glue lets its water go, a coat dries. */
export const CLOCK_OF_WAIT: Readonly<Record<WaitKind, ClockName>> = {
  none: 'clampsOff',
  'in-clamps': 'clampsOff',
  curing: 'mayMachine',
  drying: 'recoatOpens',
  resting: 'recoatOpens',
}
