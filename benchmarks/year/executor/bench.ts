import { overAt, type Truth, type TrueHold, type TrueStep } from './truth.ts'

/** How things stand in the shop. */
export class Bench {
  readonly truth: Truth
  readonly #startedAt = new Map<string, number>()
  readonly #endedAt = new Map<string, number>()
  readonly #attempts = new Map<string, number>()
  /** Steps that were begun and hold or may hold a station, and those that may still be tacky. */
  readonly #holding = new Set<string>()
  readonly #tacky = new Map<string, number>()
  /** The step that was interrupted, and what it still takes. */
  inHand: { readonly step: string; readonly leftMin: number } | null = null
  /** Windows that were missed so far, with a remedy or without. */
  missedWindows = 0

  constructor(truth: Truth) {
    this.truth = truth
  }

  step(id: string): TrueStep {
    const step = this.truth.steps.get(id)
    if (step === undefined) throw new Error(`The shop has no step ${id}.`)
    return step
  }

  attempt(id: string): number {
    return this.#attempts.get(id) ?? 1
  }

  hasStarted(id: string): boolean {
    return this.#startedAt.has(id)
  }

  endOf(id: string): number | undefined {
    return this.#endedAt.get(id)
  }

  start(id: string, at: number): void {
    this.#startedAt.set(id, at)
    if (this.step(id).holds.length > 0) this.#holding.add(id)
  }

  finish(id: string, at: number): void {
    this.#endedAt.set(id, at)
    const { tacky } = this.step(id)
    if (tacky !== null) this.#tacky.set(id, overAt(at, tacky))
  }

  /** As if it had never been begun, but for what is learned: it is the next attempt. */
  undo(id: string): void {
    this.#attempts.set(id, this.attempt(id) + 1)
    for (const known of [this.#startedAt, this.#endedAt, this.#tacky]) known.delete(id)
    this.#holding.delete(id)
  }

  /** Leaves out what is finished for good and nobody asks about any more. */
  forget(id: string): void {
    for (const known of [this.#startedAt, this.#endedAt, this.#tacky, this.#attempts]) known.delete(id)
    this.#holding.delete(id)
  }

  /** When everything that leads to a step is done and its waits are over; Infinity: something is still to be done. */
  readyAt(id: string): number {
    let ready = 0
    for (const { from, over } of this.truth.waitsInto.get(id) ?? []) {
      const end = this.#endedAt.get(from)
      if (end === undefined) return Infinity
      ready = Math.max(ready, overAt(end, over))
    }
    return ready
  }

  /** What missed windows put in front of a step that starts now, and how many there are. */
  remedies(id: string, now: number): { readonly minutes: number; readonly missed: number } {
    let minutes = 0
    let missed = 0
    for (const { from, over, openMin, remedyMin } of this.truth.waitsInto.get(id) ?? []) {
      if (openMin === null || now <= overAt(this.#endedAt.get(from)!, over) + openMin) continue
      minutes += remedyMin
      missed += 1
    }
    return { minutes, missed }
  }

  /** The instant until which tacky finish forbids dust; at or before now: the air may be dusty. */
  tackyUntil(now: number): number {
    let until = 0
    for (const [id, over] of this.#tacky) {
      if (over <= now) this.#tacky.delete(id)
      else until = Math.max(until, over)
    }
    return until
  }

  /**
   * When the stations have room for a step, as far as that is known: now, a later instant, or Infinity: something must be done first.
   * What its own pieces hold until it starts is room for it: the next coat goes on where they lie.
   */
  roomAt(id: string, now: number): number {
    const { holds } = this.step(id)
    let at = now
    for (const { station, units } of holds) {
      const capacity = this.truth.stations.get(station)
      if (capacity !== undefined) at = Math.max(at, this.#freeAt(station, capacity - units, now, id))
    }
    return at
  }

  /** When no more than so many units of a station are taken, beside what the start of this step gives back. */
  #freeAt(station: string, most: number, now: number, starting: string): number {
    const taken: { units: number; until: number }[] = []
    for (const id of this.#holding) {
      let holdsOn = false
      for (const hold of this.step(id).holds) {
        const until = this.#heldUntil(id, hold)
        if (until <= now) continue
        holdsOn = true
        const givesBack = hold.until.kind === 'start-of' && hold.until.step === starting
        if (hold.station === station && !givesBack) taken.push({ units: hold.units, until })
      }
      if (!holdsOn) this.#holding.delete(id)
    }
    let units = taken.reduce((sum, each) => sum + each.units, 0)
    if (units <= most) return now
    for (const each of taken.sort((a, b) => a.until - b.until)) {
      units -= each.units
      if (units <= most) return each.until
    }
    return Infinity
  }

  #heldUntil(id: string, { until }: TrueHold): number {
    switch (until.kind) {
      case 'end':
        return this.#endedAt.get(id) ?? Infinity
      case 'after': {
        const end = this.#endedAt.get(id)
        return end === undefined ? Infinity : overAt(end, until.over)
      }
      case 'start-of':
        return this.#startedAt.get(until.step) ?? Infinity
      case 'end-of':
        return this.#endedAt.get(until.step) ?? Infinity
    }
  }
}
