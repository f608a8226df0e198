import { NEVER } from '../problem/instants.ts'

/** Units in use over time: a step function that is 0 before its first change. Units may be taken away again. */
export class StepFunction {
  #size = 0
  #at: Int32Array = new Int32Array(16)
  #level: Int32Array = new Int32Array(16)

  copyFrom(other: StepFunction): void {
    if (this.#at.length < other.#size) {
      this.#at = new Int32Array(other.#at.length)
      this.#level = new Int32Array(other.#at.length)
    }
    this.#at.set(other.#at.subarray(0, other.#size))
    this.#level.set(other.#level.subarray(0, other.#size))
    this.#size = other.#size
  }

  /** Adds units on [from, to); negative ones take back what was added. */
  add(from: number, to: number, units: number): void {
    if (to <= from || units === 0) return
    const first = this.#change(from)
    const last = this.#change(to)
    for (let index = first; index < last; index++) this.#level[index]! += units
    this.#forgetIfFlat(last)
    this.#forgetIfFlat(first)
  }

  /** End of the first run within [from, to) in which more than `limit` units are in use; -1 when there is none. */
  firstOver(from: number, to: number, limit: number): number {
    let index = this.#before(from)
    const size = this.#size
    const at = this.#at
    const level = this.#level
    for (; index < size && (index < 0 || at[index]! < to); index++) {
      if (index < 0 ? limit >= 0 : level[index]! <= limit) continue
      do index += 1
      while (index < size && level[index]! > limit)
      return index < size ? at[index]! : NEVER
    }
    return -1
  }

  /** Begin of the last run within [from, to) in which more than `limit` units are in use; -1 when there is none. */
  lastOver(from: number, to: number, limit: number): number {
    const at = this.#at
    const level = this.#level
    for (let index = this.#before(to - 1); index >= 0; index--) {
      if (index + 1 < this.#size && at[index + 1]! <= from) break
      if (level[index]! <= limit) continue
      while (index > 0 && level[index - 1]! > limit) index -= 1
      return at[index]!
    }
    return -1
  }

  /** Units in use at an instant. */
  levelAt(instant: number): number {
    const index = this.#before(instant)
    return index < 0 ? 0 : this.#level[index]!
  }

  /** Index of the last change at or before the instant, -1 when there is none. */
  #before(instant: number): number {
    const at = this.#at
    let low = -1
    let high = this.#size
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (at[middle]! <= instant) low = middle
      else high = middle
    }
    return low
  }

  /** Index of the change at exactly this instant, put in if there is none. */
  #change(instant: number): number {
    const before = this.#before(instant)
    if (before >= 0 && this.#at[before] === instant) return before
    if (this.#size === this.#at.length) this.#grow()
    const index = before + 1
    this.#at.copyWithin(index + 1, index, this.#size)
    this.#level.copyWithin(index + 1, index, this.#size)
    this.#at[index] = instant
    this.#level[index] = before < 0 ? 0 : this.#level[before]!
    this.#size += 1
    return index
  }

  #forgetIfFlat(index: number): void {
    if (this.#level[index] !== (index === 0 ? 0 : this.#level[index - 1])) return
    this.#at.copyWithin(index, index + 1, this.#size)
    this.#level.copyWithin(index, index + 1, this.#size)
    this.#size -= 1
  }

  #grow(): void {
    const at = new Int32Array(this.#at.length * 2)
    const level = new Int32Array(this.#at.length * 2)
    at.set(this.#at)
    level.set(this.#level)
    this.#at = at
    this.#level = level
  }
}
