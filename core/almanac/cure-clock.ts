import type { CureClock, WaitKind } from '../planning/index.ts'
import { cureClock, meanRates } from '../waits/cure-clock.ts'
import type { ClockName } from '../waits/product.ts'
import type { AirAhead } from './air-ahead.ts'
import type { Almanac } from './almanac.ts'

/**
 * The clock on which a wait for a glue or finish runs in this shop's air, for the planner. A product that the almanac
 * does not list (any more) runs on plain elapsed time.
 * @param product id of a glue or finish of the almanac
 */
export function cureClockOf(almanac: Almanac, product: string, wait: WaitKind, air: AirAhead): CureClock {
  const id = `${product} ${wait}`
  const found = [...almanac.glues, ...almanac.finishes].find((one) => one.id === product)
  if (found === undefined) return { id, segments: [{ from: 0, rate: 1 }] }
  const hourly = cureClock(found, air.hours, CLOCK_OF_WAIT[wait])
  return { id, segments: air.steps === null ? hourly : meanRates(hourly, air.steps) }
}

/** Whose rate a wait has: glue in clamps sets, cured glue lets its water go, a coat dries. */
export const CLOCK_OF_WAIT: Readonly<Record<WaitKind, ClockName>> = {
  none: 'clampsOff',
  'in-clamps': 'clampsOff',
  curing: 'mayMachine',
  drying: 'recoatOpens',
  resting: 'recoatOpens',
}
