import type { WallClock } from './desk.ts'

/** The computer's own clock. */
export const systemClock: WallClock = { nowMs: () => Date.now() }

/** A clock that can be set and goes on from there at the usual pace. */
export interface SettableClock extends WallClock {
  /** @param ms milliseconds since the Unix epoch */
  setMs(ms: number): void
}

/**
 * A clock that starts at a given instant and can be set later. Passing time comes from the monotonic timer, so that a
 * change of the computer's clock does not move it.
 * @param startMs milliseconds since the Unix epoch
 */
export function settableClock(startMs: number): SettableClock {
  let setAt = performance.now()
  let setTo = startMs
  return {
    nowMs: () => setTo + Math.floor(performance.now() - setAt),
    setMs(ms) {
      setAt = performance.now()
      setTo = ms
    },
  }
}
