import type { RandomStream } from '../../chance/seeded-random.ts'
import type { Compiled } from '../problem/compiled.ts'
import type { Blocks } from '../schedule/blocks.ts'

/** Steps that change their place in one move. */
const MOST_MOVED = 3

/**
 * Orders in which the steps of one block are placed. Steps that windows or holds tie together are taken out and put back as one, so
 * nothing but this changes which of them comes first where they compete.
 */
export class Arrangements {
  readonly #compiled: Compiled
  readonly #blocks: Blocks
  readonly #random: RandomStream
  /** Blocks with steps that no waits put into one order. */
  readonly #loose: readonly number[]

  constructor(compiled: Compiled, blocks: Blocks, random: RandomStream) {
    this.#compiled = compiled
    this.#blocks = blocks
    this.#random = random
    this.#loose = [...blocks.steps.keys()].filter((block) => {
      const steps = blocks.steps[block]!
      return steps.some((step, position) => position > 0 && !this.#leads(steps[position - 1]!, step))
    })
  }

  get isEmpty(): boolean {
    return this.#loose.length === 0
  }

  /** Some steps of a block change their place in its order, none to before what leads to it. */
  change(): { readonly block: number; readonly takeBack: () => void } {
    const block = this.#loose[this.#random.below(this.#loose.length)]!
    const steps = this.#blocks.steps[block]!
    const before = [...steps]
    for (let left = 1 + this.#random.below(MOST_MOVED); left > 0; left--) this.#moveOne(steps)
    return { block, takeBack: () => void steps.splice(0, steps.length, ...before) }
  }

  #moveOne(steps: number[]): void {
    const from = this.#random.below(steps.length)
    const step = steps[from]!
    let first = from
    while (first > 0 && !this.#leads(steps[first - 1]!, step)) first -= 1
    let last = from
    while (last < steps.length - 1 && !this.#leads(step, steps[last + 1]!)) last += 1
    const to = first + this.#random.below(last - first + 1)
    steps.splice(from, 1)
    steps.splice(to, 0, step)
  }

  /** Whether one has to wait for the other. */
  #leads(step: number, other: number): boolean {
    const { lagsOutOf, lagTo, lagMin } = this.#compiled
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      if (lagTo[lag] === other && lagMin[lag]! >= 0) return true
    }
    return false
  }
}
