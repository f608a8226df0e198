import { NEVER } from '../problem/instants.ts'

/**
 * Steps of which all that leads to them is done: those whose waits are over in the order in which they are taken up, the others by when
 * their waits are over. Steps are whole numbers from 0.
 */
export class OpenSteps {
  /** Can be started as far as waits go: those whose window runs first, then by their place in the plan. */
  readonly ready: Int32Array
  readyCount = 0
  /** How many of these need nobody. */
  readyMilestones = 0
  readonly #rank: Int32Array
  readonly #isMilestone: Uint8Array
  /** Smaller goes first. */
  readonly #key: Int32Array
  readonly #readyAt: Int32Array
  /** A binary heap by `#readyAt`. */
  readonly #waiting: Int32Array
  #waitingCount = 0
  #waitingMilestones = 0

  /** @param rank place of each step in the plan @param isMilestone 1 for each step that needs nobody */
  constructor(rank: Int32Array, isMilestone: Uint8Array) {
    const count = rank.length
    this.#rank = rank
    this.#isMilestone = isMilestone
    this.#key = new Int32Array(count)
    this.#readyAt = new Int32Array(count)
    this.ready = new Int32Array(count)
    this.#waiting = new Int32Array(count)
  }

  clear(): void {
    this.readyCount = 0
    this.readyMilestones = 0
    this.#waitingCount = 0
    this.#waitingMilestones = 0
  }

  get count(): number {
    return this.readyCount + this.#waitingCount
  }

  put(step: number, readyAt: number, isUrgent: boolean): void {
    this.#key[step] = this.#rank[step]! - (isUrgent ? this.#rank.length : 0)
    this.#readyAt[step] = readyAt
    const heap = this.#waiting
    let at = this.#waitingCount++
    for (; at > 0; at = (at - 1) >> 1) {
      const parent = heap[(at - 1) >> 1]!
      if (this.#readyAt[parent]! <= readyAt) break
      heap[at] = parent
    }
    heap[at] = step
    if (this.#isMilestone[step] === 1) this.#waitingMilestones += 1
  }

  /** Those whose waits are over by now are ready. */
  release(now: number): void {
    while (this.#waitingCount > 0 && this.#readyAt[this.#waiting[0]!]! <= now) this.#makeReady(this.#takeFirst())
  }

  takeReady(index: number): void {
    if (this.#isMilestone[this.ready[index]!] === 1) this.readyMilestones -= 1
    this.readyCount -= 1
    for (let at = index; at < this.readyCount; at++) this.ready[at] = this.ready[at + 1]!
  }

  /** When the next wait is over; NEVER: nothing waits. */
  nextReady(): number {
    return this.#waitingCount === 0 ? NEVER : this.#readyAt[this.#waiting[0]!]!
  }

  /** The same, of what needs nobody. */
  nextMilestone(): number {
    let next = NEVER
    if (this.#waitingMilestones === 0) return next
    for (let at = 0; at < this.#waitingCount; at++) {
      const step = this.#waiting[at]!
      if (this.#isMilestone[step] === 1) next = Math.min(next, this.#readyAt[step]!)
    }
    return next
  }

  *[Symbol.iterator](): Generator<number> {
    yield* this.ready.subarray(0, this.readyCount)
    yield* this.#waiting.subarray(0, this.#waitingCount)
  }

  #makeReady(step: number): void {
    const { ready } = this
    const key = this.#key[step]!
    let at = this.readyCount++
    for (; at > 0 && this.#key[ready[at - 1]!]! > key; at--) ready[at] = ready[at - 1]!
    ready[at] = step
    if (this.#isMilestone[step] === 1) this.readyMilestones += 1
  }

  #takeFirst(): number {
    const heap = this.#waiting
    const first = heap[0]!
    const last = heap[--this.#waitingCount]!
    const readyAt = this.#readyAt[last]!
    let at = 0
    for (let child = 1; child < this.#waitingCount; child = 2 * at + 1) {
      if (child + 1 < this.#waitingCount && this.#readyAt[heap[child + 1]!]! < this.#readyAt[heap[child]!]!) child += 1
      if (this.#readyAt[heap[child]!]! >= readyAt) break
      heap[at] = heap[child]!
      at = child
    }
    heap[at] = last
    if (this.#isMilestone[first] === 1) this.#waitingMilestones -= 1
    return first
  }
}
