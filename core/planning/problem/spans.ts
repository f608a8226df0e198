import type { Interval } from './model.ts'

/** Intervals that may overlap, looked up by time. */
export class Spans<T extends Interval> {
  readonly #sorted: readonly T[]
  readonly #longest: number

  constructor(spans: readonly T[]) {
    this.#sorted = [...spans].sort((a, b) => a.from - b.from || a.to - b.to)
    this.#longest = this.#sorted.reduce((longest, { from, to }) => Math.max(longest, to - from), 0)
  }

  get all(): readonly T[] {
    return this.#sorted
  }

  /** Those that hold the instant. */
  at(instant: number): T[] {
    return this.#between(instant - this.#longest, instant).filter(({ to }) => instant < to)
  }

  /** Those that end within (from, to). */
  endingBetween(from: number, to: number): T[] {
    return this.#between(from - this.#longest, to).filter((span) => span.to > from && span.to < to)
  }

  /** Those that begin within [from, to], the only ones that can matter there. */
  #between(from: number, to: number): readonly T[] {
    return this.#sorted.slice(this.#firstFrom(from), this.#firstFrom(to + 1))
  }

  #firstFrom(instant: number): number {
    let low = -1
    let high = this.#sorted.length
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (this.#sorted[middle]!.from < instant) low = middle
      else high = middle
    }
    return high
  }
}
