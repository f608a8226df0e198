import type { Compiled } from '../problem/compiled.ts'
import { cureOver, type CureTime } from './cure-time.ts'

/** The instant at which `minutes` have run since `start`; NEVER: not as the clock goes. @param clock -1: plain elapsed time */
export const waitOver = (clocks: readonly CureTime[], clock: number, start: number, minutes: number): number =>
  clock < 0 ? start + minutes : cureOver(clocks[clock]!, start, minutes)

/** The instant from which the minimum of a lag is over, when the step before it ends at `end`. */
export const readyAfterLag = ({ lagClock, lagMin, clocks }: Compiled, lag: number, end: number): number =>
  waitOver(clocks, lagClock[lag]!, end, lagMin[lag]!)

/** Until when a coat is tacky that ends at `end`: no dust until then. */
export const tackyUntil = ({ tackyClock, tackyMin, clocks }: Compiled, step: number, end: number): number =>
  waitOver(clocks, tackyClock[step]!, end, tackyMin[step]!)
