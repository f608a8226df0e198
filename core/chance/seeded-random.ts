/** A stream of pseudo-random numbers that depends on the seed alone, so that the same seed gives the same plan. */
export interface RandomStream {
  /** Uniform in [0, 1). */
  fraction(): number
  /** Uniform whole number in [0, bound); bound >= 1. */
  below(bound: number): number
}

/**
 * Counter-based generator with 32 bits of state (a Weyl sequence followed by a mixing function): quick, and good enough
 * for search, not for statistics or secrets.
 * @param seed any whole number; only its lowest 32 bits count
 */
export function randomStream(seed: number): RandomStream {
  let state = Math.imul(seed | 0, 0x9e3779b1) ^ 0x5bd1e995
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return (mixed ^ (mixed >>> 14)) >>> 0
  }
  return {
    fraction: () => next() / 4294967296,
    below: (bound) => Math.floor((next() / 4294967296) * bound),
  }
}
