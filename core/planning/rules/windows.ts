import type { Compiled } from '../problem/compiled.ts'
import { cureBegun, cureOver } from './cure-time.ts'
import { NEVER } from '../problem/instants.ts'

/** The last instant at which the step after a lag may start when the one before it ends at `end`; NEVER: no limit. See `Lag.maxMin`. */
export function closesAt({ lagMin, lagMax, lagClock, clocks }: Compiled, lag: number, end: number): number {
  const max = lagMax[lag]!
  if (max === NEVER) return NEVER
  const clock = lagClock[lag]!
  return clock < 0 ? end + max : cureOver(clocks[clock]!, end, lagMin[lag]!) + max - lagMin[lag]!
}

/** The least end of the step before a lag with which its window is still open at `start`. */
export function leastEndToMeet({ lagMin, lagMax, lagClock, clocks }: Compiled, lag: number, start: number): number {
  const clock = lagClock[lag]!
  return clock < 0 ? start - lagMax[lag]! : cureBegun(clocks[clock]!, start - lagMax[lag]! + lagMin[lag]!, lagMin[lag]!)
}
