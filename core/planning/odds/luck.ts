/**
 * Chance without a stream: the same name, replication and seed always give the same number, so that a step has the same
 * luck in every offer that is compared (common random numbers), whatever is computed in which order.
 */

/** @param seed any whole number */
export function luckOf(name: string, seed: number): number {
  let hash = 0x811c9dc5 ^ seed
  for (let index = 0; index < name.length; index++) hash = Math.imul(hash ^ name.charCodeAt(index), 0x01000193)
  return mixed(hash)
}

/** Uniform in (0, 1), from the luck of a name and the number of a replication. */
export const uniform = (luck: number, replication: number): number =>
  ((mixed(luck ^ Math.imul(replication + 1, 0x9e3779b1)) >>> 0) + 0.5) / 4294967296

/**
 * A number in (0, 1) for each of so many replications, one in each of as many equal parts, in an order that hangs on the luck
 * (a Latin hypercube, over all names): chances from 200 such replications are known as well as from 300 without.
 * @source M. D. McKay, R. J. Beckman, W. J. Conover, "A comparison of three methods for selecting values of input variables", Technometrics 21 (1979)
 */
export function stratified(luck: number, count: number): Float64Array {
  const parts = new Float64Array(count)
  for (let run = 0; run < count; run++) {
    // Shuffled inside out (Fisher and Yates).
    const other = Math.floor(uniform(luck, run) * (run + 1))
    parts[run] = parts[other]!
    parts[other] = run
  }
  const within = mixed(luck ^ WITHIN)
  for (let run = 0; run < count; run++) parts[run] = (parts[run]! + uniform(within, run)) / count
  return parts
}

const WITHIN = 0x27d4eb2f

/** The triangular distribution with these corners. */
export class Triangle {
  readonly #low: number
  readonly #high: number
  readonly #turn: number
  readonly #rising: number
  readonly #falling: number

  constructor(low: number, mode: number, high: number) {
    const isFlat = high <= low
    this.#low = isFlat ? mode : low
    this.#high = isFlat ? mode : high
    this.#turn = isFlat ? 1 : (mode - low) / (high - low)
    this.#rising = isFlat ? 0 : (high - low) * (mode - low)
    this.#falling = isFlat ? 0 : (high - low) * (high - mode)
  }

  /** Its value that is not exceeded with this chance. */
  at(chance: number): number {
    return chance < this.#turn
      ? this.#low + Math.sqrt(chance * this.#rising)
      : this.#high - Math.sqrt((1 - chance) * this.#falling)
  }
}

/** The finalizer of MurmurHash3 (A. Appleby, public domain): every bit in changes half of the bits out. */
function mixed(value: number): number {
  let hash = value
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b)
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35)
  return hash ^ (hash >>> 16)
}
