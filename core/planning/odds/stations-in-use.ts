import { DONE, UNTIL_AFTER, UNTIL_END, UNTIL_END_OF, UNTIL_START_OF, type Compiled } from '../problem/compiled.ts'
import type { Facts } from '../problem/facts.ts'
import { NEVER } from '../problem/instants.ts'
import { cureOver } from '../rules/cure-time.ts'

/** Which units of the stations are taken at a moment that moves on. */
export class StationsInUse {
  readonly #compiled: Compiled
  readonly #facts: Facts
  readonly #used: Int32Array
  /** When each hold is over as far as that is known: -1 not begun or over already, NEVER: something must be done first. */
  readonly #until: Int32Array
  /** Holds that have begun and are not over, in no order. */
  readonly #running: Int32Array
  #runningCount = 0
  /** No hold is over before this. */
  #next = 0

  constructor(compiled: Compiled, facts: Facts) {
    this.#compiled = compiled
    this.#facts = facts
    this.#used = new Int32Array(compiled.capacity.length)
    this.#until = new Int32Array(compiled.holdStep.length)
    this.#running = new Int32Array(compiled.holdStep.length)
  }

  /** Back to what has been done before anything is lived through. */
  reset(): void {
    const { stepCount, state } = this.#compiled
    this.#used.fill(0)
    this.#until.fill(-1)
    this.#runningCount = 0
    this.#next = NEVER
    for (let step = 0; step < stepCount; step++) if (state[step] === DONE) this.take(step, this.#facts.end[step]!)
    for (let step = 0; step < stepCount; step++)
      if (state[step] === DONE) this.give(step, UNTIL_END_OF, this.#facts.end[step]!)
    for (let step = 0; step < stepCount; step++)
      if (state[step] === DONE) this.give(step, UNTIL_START_OF, this.#facts.start[step]!)
  }

  /** The next instant at which something comes free; NEVER: not known of any. */
  nextAfter(now: number): number {
    this.giveBack(now)
    return this.#next
  }

  giveBack(now: number): void {
    if (now < this.#next) return
    const { holdStation, holdUnits } = this.#compiled
    this.#next = NEVER
    let kept = 0
    for (let at = 0; at < this.#runningCount; at++) {
      const hold = this.#running[at]!
      const until = this.#until[hold]!
      if (until > now) {
        this.#running[kept++] = hold
        if (until < this.#next) this.#next = until
        continue
      }
      this.#until[hold] = -1
      this.#used[holdStation[hold]!]! -= holdUnits[hold]!
    }
    this.#runningCount = kept
  }

  /** Whether a step can have what it holds; what ends with its start is free for it. */
  hasRoomFor(step: number): boolean {
    const { holdsOf, holdsClosedBy, holdStation, holdUnits, capacity, holdUntil } = this.#compiled
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      const station = holdStation[hold]!
      let free = capacity[station]! - this.#used[station]!
      for (let closed = holdsClosedBy.from[step]!; closed < holdsClosedBy.from[step + 1]!; closed++) {
        const other = holdsClosedBy.items[closed]!
        const isFreed = holdUntil[other] === UNTIL_START_OF && this.#until[other]! >= 0
        if (isFreed && holdStation[other] === station) free += holdUnits[other]!
      }
      if (holdUnits[hold]! > free) return false
    }
    return true
  }

  /** A step takes what it holds; it is over at `end`. */
  take(step: number, end: number): void {
    const { holdsOf, holdStation, holdUnits, holdUntil, holdMin, holdClock, clocks } = this.#compiled
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      this.#used[holdStation[hold]!]! += holdUnits[hold]!
      if (this.#until[hold]! < 0) this.#running[this.#runningCount++] = hold
      const kind = holdUntil[hold]!
      if (kind === UNTIL_END) this.#until[hold] = end
      else if (kind === UNTIL_AFTER) {
        const clock = holdClock[hold]!
        this.#until[hold] = clock < 0 ? end + holdMin[hold]! : cureOver(clocks[clock]!, end, holdMin[hold]!)
      } else this.#until[hold] = NEVER
      this.#next = Math.min(this.#next, this.#until[hold]!)
    }
  }

  /** What is held until a step starts, or until it ends, comes free at this instant. */
  give(step: number, until: typeof UNTIL_START_OF | typeof UNTIL_END_OF, at: number): void {
    const { holdsClosedBy, holdUntil } = this.#compiled
    for (let index = holdsClosedBy.from[step]!; index < holdsClosedBy.from[step + 1]!; index++) {
      const hold = holdsClosedBy.items[index]!
      if (holdUntil[hold] !== until || this.#until[hold]! < 0) continue
      this.#until[hold] = at
      if (at < this.#next) this.#next = at
    }
  }
}
