import { TO_DO, type Compiled } from '../problem/compiled.ts'
import type { Facts } from '../problem/facts.ts'
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

/** A window may be missed when the trade has a remedy, or when what led to it has already happened. */
export const mayMiss = (
  { compiled, facts }: { readonly compiled: Compiled; readonly facts: Facts },
  lag: number,
): boolean => compiled.lagRemedy[lag]! >= 0 || facts.led[compiled.lagTo[lag]!] === 1

/** Whether a step that starts then misses the day that it is pinned to. */
export const isPinMissed = ({ pinnedTo, state }: Compiled, step: number, start: number): boolean =>
  pinnedTo[step]! < NEVER && state[step] === TO_DO && start >= pinnedTo[step]!
