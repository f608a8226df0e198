import { workUntil, type Sessions } from './sessions.ts'

/** What one maker is busy with: disjoint stretches of time in order, each with the step it is for. */
export class BusyTimes {
  size = 0
  from: Int32Array = new Int32Array(16)
  to: Int32Array = new Int32Array(16)
  step: Int32Array = new Int32Array(16)
  /** Working minutes that are free between each stretch and the one before it (from the first session for the first). */
  #free: Int32Array = new Int32Array(16)
  readonly #sessions: Sessions

  constructor(sessions: Sessions) {
    this.#sessions = sessions
  }

  copyFrom(other: BusyTimes): void {
    while (this.from.length < other.size) this.#grow()
    this.from.set(other.from.subarray(0, other.size))
    this.to.set(other.to.subarray(0, other.size))
    this.step.set(other.step.subarray(0, other.size))
    this.#free.set(other.#free.subarray(0, other.size))
    this.size = other.size
  }

  /** Index of the first stretch that ends after the instant; `size` when there is none. */
  after(instant: number): number {
    const to = this.to
    let low = -1
    let high = this.size
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (to[middle]! <= instant) low = middle
      else high = middle
    }
    return high
  }

  /** The first instant after the stretch at `index` from which at least so many working minutes are free. */
  freeAfter(index: number, minutes: number): number {
    const free = this.#free
    const size = this.size
    let next = index + 1
    while (next < size && free[next]! < minutes) next += 1
    return this.to[next - 1]!
  }

  /** The stretch must not overlap another one and must not be empty. */
  add(from: number, to: number, step: number): void {
    if (this.size === this.from.length) this.#grow()
    const index = this.after(from)
    const size = this.size
    if (index < size) {
      this.from.copyWithin(index + 1, index, size)
      this.to.copyWithin(index + 1, index, size)
      this.step.copyWithin(index + 1, index, size)
      this.#free.copyWithin(index + 1, index, size)
    }
    this.from[index] = from
    this.to[index] = to
    this.step[index] = step
    this.size = size + 1
    this.#measure(index)
    this.#measure(index + 1)
  }

  /** Takes back the stretch that begins at this instant. */
  remove(from: number): void {
    const index = this.after(from)
    if (index >= this.size || this.from[index] !== from) throw new Error('nothing begins then')
    this.from.copyWithin(index, index + 1, this.size)
    this.to.copyWithin(index, index + 1, this.size)
    this.step.copyWithin(index, index + 1, this.size)
    this.#free.copyWithin(index, index + 1, this.size)
    this.size -= 1
    this.#measure(index)
  }

  #measure(index: number): void {
    if (index >= this.size) return
    const before = index === 0 ? 0 : workUntil(this.#sessions, this.to[index - 1]!)
    this.#free[index] = workUntil(this.#sessions, this.from[index]!) - before
  }

  #grow(): void {
    const grown = (old: Int32Array): Int32Array => {
      const wider = new Int32Array(old.length * 2)
      wider.set(old)
      return wider
    }
    this.from = grown(this.from)
    this.to = grown(this.to)
    this.step = grown(this.step)
    this.#free = grown(this.#free)
  }
}
