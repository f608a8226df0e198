import { TO_DO, type Compiled } from '../problem/compiled.ts'
import type { Facts } from '../problem/facts.ts'
import type { Timetable } from '../rules/measured.ts'
import type { Schedule } from '../schedule/schedule.ts'
import { setUpUpsetBy } from '../schedule/set-ups.ts'

/**
 * Takes blocks out of a complete schedule and places them again in another order, with the rest left where it is; and
 * can undo that. The rest stays valid whatever happens.
 */
export class Replacement {
  readonly #schedule: Schedule
  readonly #taken: number[] = []
  readonly #isTaken: Uint8Array
  #steps: number[] = []
  #saved: { start: number; end: number; crew: number; setUp: number; remedy: number }[] = []
  #missed: number[] = []
  /** Steps of the blocks that were put back last, tried ones included. */
  stepsPutBack = 0

  constructor(schedule: Schedule) {
    this.#schedule = schedule
    this.#isTaken = new Uint8Array(schedule.blocks.steps.length)
  }

  /** Blocks that are out, those that lead to others first. */
  get blocks(): readonly number[] {
    return this.#taken
  }

  /** Steps that are out. */
  get steps(): readonly number[] {
    return this.#steps
  }

  /** Takes out these blocks, what follows them, and steps whose set-up was shared with one of them. */
  takeOut(blocks: readonly number[]): void {
    this.#taken.length = 0
    this.#isTaken.fill(0)
    this.#steps = []
    this.#saved = []
    this.#missed = []
    let next = this.#withFollowers(blocks)
    while (next.length > 0) {
      // What follows a block has a higher number, so the last go first.
      next.sort((a, b) => b - a)
      const steps = next.flatMap((block) => this.#schedule.blocks.steps[block]!)
      for (const step of steps) this.#save(step)
      for (const block of next) this.#schedule.remove(block)
      this.#taken.push(...next)
      const upset = new Set<number>()
      for (const step of steps) {
        const other = setUpUpsetBy(this.#schedule, step)
        if (other >= 0) upset.add(this.#schedule.blocks.of[other]!)
      }
      next = this.#withFollowers([...upset])
    }
    this.#taken.sort((a, b) => a - b)
  }

  #withFollowers(blocks: readonly number[]): number[] {
    const found: number[] = []
    const open = [...blocks]
    for (let block = open.pop(); block !== undefined; block = open.pop()) {
      if (this.#isTaken[block] === 1) continue
      this.#isTaken[block] = 1
      found.push(block)
      open.push(...this.#schedule.blocks.after[block]!)
    }
    return found
  }

  #save(step: number): void {
    const { start, end, crew, setUp, remedy, missed, compiled } = this.#schedule
    this.#steps.push(step)
    this.#saved.push({
      start: start[step]!,
      end: end[step]!,
      crew: crew[step]!,
      setUp: setUp[step]!,
      remedy: remedy[step]!,
    })
    const { lagsInto } = compiled
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      if (missed[lagsInto.items[at]!] === 1) this.#missed.push(lagsInto.items[at]!)
    }
  }

  /**
   * Places what is out in this order. False: something found no place, or `isTooLate` said so of a block that was placed,
   * and all is as before.
   */
  putBack(order: readonly number[], isTooLate: (block: number) => boolean = () => false): boolean {
    this.stepsPutBack = 0
    for (const block of order) {
      this.stepsPutBack += this.#schedule.blocks.steps[block]!.length
      if (this.#schedule.place(block) && !isTooLate(block)) continue
      this.undo()
      return false
    }
    return true
  }

  /** Everything as it was before it was taken out. */
  undo(): void {
    const { blocks, placed } = this.#schedule
    for (let index = this.#taken.length - 1; index >= 0; index--) {
      const block = this.#taken[index]!
      if (placed[blocks.steps[block]![0]!] === 1) this.#schedule.remove(block)
    }
    this.#steps.forEach((step, index) => {
      const saved = this.#saved[index]!
      this.#schedule.start[step] = saved.start
      this.#schedule.end[step] = saved.end
      this.#schedule.crew[step] = saved.crew
      this.#schedule.setUp[step] = saved.setUp
      this.#schedule.remedy[step] = saved.remedy
      this.#schedule.restore(step)
    })
    for (const lag of this.#missed) this.#schedule.missed[lag] = 1
  }
}

/** The values of a complete schedule, to come back to. */
export class Snapshot implements Timetable {
  readonly compiled: Compiled
  readonly facts: Facts
  readonly start: Int32Array
  readonly end: Int32Array
  readonly crew: Int32Array
  readonly setUp: Int32Array
  readonly remedy: Int32Array
  readonly missed: Uint8Array

  constructor({ compiled, facts, start, end, crew, setUp, remedy, missed }: Timetable) {
    this.compiled = compiled
    this.facts = facts
    this.start = start.slice()
    this.end = end.slice()
    this.crew = crew.slice()
    this.setUp = setUp.slice()
    this.remedy = remedy.slice()
    this.missed = missed.slice()
  }

  takeOver(schedule: Schedule): void {
    schedule.reset()
    schedule.start.set(this.start)
    schedule.end.set(this.end)
    schedule.crew.set(this.crew)
    schedule.setUp.set(this.setUp)
    schedule.remedy.set(this.remedy)
    const { state } = schedule.compiled
    for (let step = 0; step < state.length; step++) if (state[step] === TO_DO) schedule.restore(step)
    schedule.missed.set(this.missed)
  }
}
