import type { CureClock } from '../planning/index.ts'
import { cureClock, meanRates } from '../waits/cure-clock.ts'
import type { AirAhead } from './air-ahead.ts'
import type { Almanac } from './almanac.ts'

/**
 * The clock on which the waits of a glue or finish run in this shop's air, for the planner. A product that the almanac
 * does not list (any more) runs on plain elapsed time.
 * @param product id of a glue or finish of the almanac
 */
export function cureClockOf(almanac: Almanac, product: string, air: AirAhead): CureClock {
  const found = [...almanac.glues, ...almanac.finishes].find((one) => one.id === product)
  if (found === undefined) return { id: product, segments: [{ from: 0, rate: 1 }] }
  const hourly = cureClock(found, air.hours)
  return { id: product, segments: air.steps === null ? hourly : meanRates(hourly, air.steps) }
}
