/** What one maker is busy with: disjoint stretches of time in order, each with the step it is for. */
export class BusyTimes {
  size = 0
  from: Int32Array = new Int32Array(16)
  to: Int32Array = new Int32Array(16)
  step: Int32Array = new Int32Array(16)

  copyFrom(other: BusyTimes): void {
    this.size = 0
    for (let index = 0; index < other.size; index++) this.add(other.from[index]!, other.to[index]!, other.step[index]!)
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

  /** The stretch must not overlap another one and must not be empty. */
  add(from: number, to: number, step: number): void {
    if (this.size === this.from.length) this.#grow()
    const index = this.after(from)
    this.from.copyWithin(index + 1, index, this.size)
    this.to.copyWithin(index + 1, index, this.size)
    this.step.copyWithin(index + 1, index, this.size)
    this.from[index] = from
    this.to[index] = to
    this.step[index] = step
    this.size += 1
  }

  /** Takes back the stretch that begins at this instant. */
  remove(from: number): void {
    const index = this.after(from)
    if (index >= this.size || this.from[index] !== from) throw new Error('nothing begins then')
    this.from.copyWithin(index, index + 1, this.size)
    this.to.copyWithin(index, index + 1, this.size)
    this.step.copyWithin(index, index + 1, this.size)
    this.size -= 1
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
  }
}
