import { TO_DO, UNTIL_AFTER, UNTIL_END, UNTIL_START_OF } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import { doneTimes } from '../rules/measured.ts'
import { readyAfterLag } from '../rules/waits.ts'
import type { Schedule } from '../schedule/schedule.ts'
import { sessionAt, type Sessions } from '../schedule/sessions.ts'
import { StepFunction } from '../schedule/step-function.ts'

/**
 * The latest start of each block that leaves every commission done when it is now, or by its promise where that is later:
 * the backward half of justification (V. Valls, F. Ballestin, S. Quintanilla, EJOR 165 (2005) 375-386), on the calendar of
 * the shop. Steps are taken from the last end to the first, each with its crew, its length and its waits as they stand.
 * Windows, setups and clean air are left to the forward half, which places the blocks in the order of these starts.
 */
export function latestStarts(schedule: Schedule): Float64Array {
  return new BackwardPass(schedule).run()
}

class BackwardPass {
  readonly #schedule: Schedule
  readonly #busy: StepFunction[]
  readonly #held: StepFunction[]
  readonly #start: Int32Array
  readonly #end: Int32Array
  readonly #due: Int32Array

  constructor(schedule: Schedule) {
    const { compiled } = schedule
    this.#schedule = schedule
    this.#busy = compiled.makerSessions.map(() => new StepFunction())
    this.#held = Array.from(compiled.capacity, () => new StepFunction())
    this.#start = schedule.start.slice()
    this.#end = schedule.end.slice()
    this.#due = doneTimes(schedule).map((done, commission) => {
      const promise = compiled.promise[commission]!
      return promise < NEVER ? Math.max(done, promise) : done
    })
  }

  run(): Float64Array {
    const { compiled, blocks, start, end } = this.#schedule
    const { stepCount, state } = compiled
    const steps: number[] = []
    for (let step = 0; step < stepCount; step++) if (state[step] === TO_DO) steps.push(step)
    // Of what ends together, what started later goes first, so that a step comes before what leads to it.
    steps.sort((a, b) => end[b]! - end[a]! || start[b]! - start[a]! || b - a)
    const at = new Float64Array(blocks.steps.length).fill(Infinity)
    for (const step of steps) {
      this.#place(step)
      const block = blocks.of[step]!
      at[block] = Math.min(at[block]!, this.#start[step]!)
    }
    return at
  }

  #place(step: number): void {
    const { compiled, crew, start, end } = this.#schedule
    const { crews } = compiled
    const own = crew[step]!
    const sessions = own < 0 ? null : crews[own]!.sessions
    let limit = this.#latestEnd(step)
    // Nothing moves to before where it stands: there it fits.
    while (limit > end[step]!) {
      const from = sessions === null ? limit : this.#startBefore(sessions, step, limit)
      const to = sessions === null ? limit : endIn(sessions, limit)
      const next = from <= start[step]! ? -1 : this.#clash(step, from, to)
      if (next < 0) {
        if (from > start[step]!) {
          this.#start[step] = from
          this.#end[step] = to
        }
        break
      }
      limit = next
    }
    this.#book(step)
  }

  /** By the steps that follow, with the waits as long as they are now, and by the commission. */
  #latestEnd(step: number): number {
    const { compiled, end } = this.#schedule
    const { lagsOutOf, lagTo, commission } = compiled
    let latest = this.#due[commission[step]!]!
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      const wait = readyAfterLag(this.#schedule.compiled, lag, end[step]!) - end[step]!
      // A wait that is never over tells nothing.
      if (wait < NEVER / 2) latest = Math.min(latest, this.#start[lagTo[lag]!]! - wait)
    }
    return latest
  }

  #startBefore(sessions: Sessions, step: number, end: number): number {
    const { compiled, setUp, remedy } = this.#schedule
    const { minutes, interruptible } = compiled
    let left = minutes[step]! + setUp[step]! + remedy[step]!
    let session = sessionAt(sessions, end)
    if (session >= sessions.count || sessions.from[session]! >= end) session -= 1
    for (; session >= 0; session--) {
      const closes = Math.min(end, sessions.to[session]!)
      const length = closes - sessions.from[session]!
      if (length >= left) return closes - left
      if (interruptible[step] === 1) left -= length
    }
    return sessions.from[0] ?? end
  }

  /** The end to try next where the place is taken; -1 where it is free. */
  #clash(step: number, from: number, to: number): number {
    const { compiled, crew } = this.#schedule
    const { crews, holdsOf, holdStation, holdUnits, capacity } = compiled
    if (crew[step]! >= 0) {
      for (const maker of crews[crew[step]!]!.makers) {
        const begins = this.#busy[maker]!.lastOver(from, to, 0)
        if (begins >= 0) return begins
      }
    }
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      const station = holdStation[hold]!
      const until = this.#holdEnd(hold, to)
      const begins = this.#held[station]!.lastOver(from, until, capacity[station]! - holdUnits[hold]!)
      if (begins >= 0) return Math.min(to - 1, begins - Math.max(0, until - to))
    }
    return -1
  }

  #holdEnd(hold: number, end: number): number {
    const { holdUntil, holdMin, holdTarget } = this.#schedule.compiled
    switch (holdUntil[hold]) {
      case UNTIL_END:
        return end
      case UNTIL_AFTER:
        return end + holdMin[hold]!
      default: {
        const target = holdTarget[hold]!
        return Math.max(end, holdUntil[hold] === UNTIL_START_OF ? this.#start[target]! : this.#end[target]!)
      }
    }
  }

  #book(step: number): void {
    const { compiled, crew } = this.#schedule
    const { crews, holdsOf, holdStation, holdUnits } = compiled
    const from = this.#start[step]!
    const to = this.#end[step]!
    if (crew[step]! >= 0) for (const maker of crews[crew[step]!]!.makers) this.#busy[maker]!.add(from, to, 1)
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      this.#held[holdStation[hold]!]!.add(from, this.#holdEnd(hold, to), holdUnits[hold]!)
    }
  }
}

/** The last instant up to `limit` at which the shop is still open. */
function endIn(sessions: Sessions, limit: number): number {
  const session = sessionAt(sessions, limit)
  if (session < sessions.count && sessions.from[session]! < limit) return limit
  return session > 0 ? sessions.to[session - 1]! : limit
}
