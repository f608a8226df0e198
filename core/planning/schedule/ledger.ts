import type { Blocks } from './blocks.ts'
import { BusyTimes } from './busy-times.ts'
import { RUNNING, TO_DO, type Compiled } from '../problem/compiled.ts'
import { factsOf, type Facts } from '../problem/facts.ts'
import { FullStretches } from './full-stretches.ts'
import { NEVER } from '../problem/instants.ts'
import { holdOver } from '../rules/holds.ts'
import { tackyUntil } from '../rules/waits.ts'
import { stretchesOfWork } from './sessions.ts'
import { StepFunction } from './step-function.ts'

/** Why a block cannot be placed: the step at which it failed and what was in the way. */
export type Obstacle =
  | { readonly kind: 'no-hours'; readonly step: number }
  | { readonly kind: 'station'; readonly step: number; readonly station: number }
  | { readonly kind: 'window'; readonly step: number; readonly lag: number }
  | { readonly kind: 'wait'; readonly step: number; readonly lag: number }

/** A place found for a step. One object for all of them, as places are looked for millions of times. */
export interface Found {
  start: number
  end: number
  setUp: number
  /** -1 for a milestone. */
  crew: number
}

/** Who is busy when, what is held, wet and dusty: the state of makers, stations and rooms under the steps placed so far. */
export class Ledger {
  readonly compiled: Compiled
  readonly blocks: Blocks
  readonly facts: Facts
  readonly start: Int32Array
  readonly end: Int32Array
  readonly crew: Int32Array
  readonly setUp: Int32Array
  readonly remedy: Int32Array
  readonly placed: Uint8Array
  /** 1 for each lag whose window is missed. */
  readonly missed: Uint8Array
  /** Where the last block failed. */
  obstacle: Obstacle | null = null
  /** The place found last. */
  readonly found: Found = { start: 0, end: 0, setUp: 0, crew: -1 }

  readonly busy: readonly BusyTimes[]
  readonly held: readonly StepFunction[]
  readonly wet: readonly StepFunction[]
  readonly dust: readonly StepFunction[]
  readonly full: FullStretches
  /** Whether what has started is left out: the rest of the shop is empty. */
  readonly isEmptyShop: boolean
  /** Bounds of stretches of work, written over with every use. */
  readonly bounds: number[] = []
  readonly #untouched: { busy: BusyTimes[]; held: StepFunction[]; wet: StepFunction[]; dust: StepFunction[] }

  constructor(compiled: Compiled, blocks: Blocks, isEmptyShop = false) {
    const { stepCount, lagCount, problem, roomCount } = compiled
    this.compiled = compiled
    this.blocks = blocks
    this.facts = factsOf(compiled)
    this.start = new Int32Array(stepCount)
    this.end = new Int32Array(stepCount)
    this.crew = new Int32Array(stepCount).fill(-1)
    this.setUp = new Int32Array(stepCount)
    this.remedy = new Int32Array(stepCount)
    this.placed = new Uint8Array(stepCount)
    this.missed = new Uint8Array(lagCount)
    this.isEmptyShop = isEmptyShop
    const each = <T>(count: number, make: () => T): T[] => Array.from({ length: count }, make)
    const makeRoom = () => each(roomCount, () => new StepFunction())
    this.busy = compiled.makerSessions.map((sessions) => new BusyTimes(sessions))
    this.held = each(problem.stations.length, () => new StepFunction())
    this.wet = makeRoom()
    this.dust = makeRoom()
    this.full = new FullStretches(roomCount)
    this.#placeFacts()
    this.#untouched = {
      busy: copies(this.busy, (maker) => new BusyTimes(compiled.makerSessions[maker]!)),
      held: copies(this.held, () => new StepFunction()),
      wet: copies(this.wet, () => new StepFunction()),
      dust: copies(this.dust, () => new StepFunction()),
    }
  }

  /** Back to what has already started. */
  reset(): void {
    const { busy, held, wet, dust } = this.#untouched
    this.full.forget()
    this.busy.forEach((each, index) => each.copyFrom(busy[index]!))
    this.held.forEach((each, index) => each.copyFrom(held[index]!))
    this.wet.forEach((each, index) => each.copyFrom(wet[index]!))
    this.dust.forEach((each, index) => each.copyFrom(dust[index]!))
    const { state } = this.compiled
    for (let step = 0; step < this.placed.length; step++) this.placed[step] = state[step] === TO_DO ? 0 : 1
    this.missed.fill(0)
  }

  isPlaced(block: number): boolean {
    return this.placed[this.blocks.steps[block]![0]!] === 1
  }

  /** End of what a placed step holds; NEVER while the step that closes it is not placed. */
  holdEnd(hold: number): number {
    const { holdStep, holdTarget } = this.compiled
    const target = holdTarget[hold]!
    if (target >= 0 && this.placed[target] === 0) return NEVER
    return holdOver(this.compiled, hold, this.end[holdStep[hold]!]!, this)
  }

  /** Whether what the step holds is in the books: it is placed, and not left out with the rest of the shop. */
  isBooked(step: number): boolean {
    return this.placed[step] === 1 && !(this.isEmptyShop && this.compiled.state[step] !== TO_DO)
  }

  /** End of the first overload while the hold lasts; -1 when there is none. */
  overHeld(hold: number): number {
    const { holdStation, holdStep, capacity, state } = this.compiled
    const station = holdStation[hold]!
    const holder = holdStep[hold]!
    const from = state[holder] === TO_DO ? this.start[holder]! : this.compiled.now
    const to = this.holdEnd(hold)
    const over = this.held[station]!.firstOver(from, to, capacity[station]!)
    if (over < 0 || state[holder] === TO_DO) return over
    // What had started before may take more than there is; it is only wrong where something planned adds to it.
    return this.#addsToFacts(station, from, to) ? over : -1
  }

  #addsToFacts(station: number, from: number, to: number): boolean {
    const { capacity, holdStation, holdUnits, holdStep, state } = this.compiled
    const planned = new StepFunction()
    const all = this.held[station]!
    for (let hold = 0; hold < holdStation.length; hold++) {
      const step = holdStep[hold]!
      if (holdStation[hold] !== station || state[step] !== TO_DO || this.placed[step] === 0) continue
      planned.add(this.start[step]!, this.holdEnd(hold), holdUnits[hold]!)
    }
    for (let at = from; at < to;) {
      const over = all.firstOver(at, to, capacity[station]!)
      if (over < 0) return false
      if (planned.firstOver(at, Math.min(over, to), 0) >= 0) return true
      at = over
    }
    return false
  }

  /** Takes out (-1) or puts back (1) what is held until this step, while a place for it is looked for. */
  openClosers(step: number, sign: number): void {
    const { holdsClosedBy, holdStep, holdStation, holdUnits } = this.compiled
    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      const holder = holdStep[hold]!
      if (this.isBooked(holder)) this.held[holdStation[hold]!]!.add(this.start[holder]!, NEVER, sign * holdUnits[hold]!)
    }
  }

  /** Books the place found last. */
  markFound(step: number, remedy: number): void {
    this.start[step] = this.found.start
    this.end[step] = this.found.end
    this.setUp[step] = this.found.setUp
    this.crew[step] = this.found.crew
    this.remedy[step] = remedy
    this.book(step)
  }

  book(step: number): void {
    const crew = this.crew[step]!
    if (crew >= 0) {
      for (const maker of this.compiled.crews[crew]!.makers)
        this.busy[maker]!.add(this.start[step]!, this.end[step]!, step)
    }
    this.#switchClosed(step, -1)
    this.placed[step] = 1
    this.#switchClosed(step, 1)
    this.#switchOwn(step, 1)
  }

  unbook(step: number): void {
    this.full.forgetUnsettled()
    const crew = this.crew[step]!
    if (crew >= 0) for (const maker of this.compiled.crews[crew]!.makers) this.busy[maker]!.remove(this.start[step]!)
    this.#switchOwn(step, -1)
    this.#switchClosed(step, -1)
    this.placed[step] = 0
    this.#switchClosed(step, 1)
    const { lagsInto } = this.compiled
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) this.missed[lagsInto.items[at]!] = 0
  }

  unbookFrom(order: readonly number[], first: number, last: number): void {
    for (let position = last; position >= first; position--) {
      if (this.placed[order[position]!] === 1) this.unbook(order[position]!)
    }
  }

  /** Adds (1) or takes back (-1) what placed steps hold until this one, as long as it lasts at the moment. */
  #switchClosed(step: number, sign: number): void {
    const { holdsClosedBy, holdStep, holdStation, holdUnits } = this.compiled
    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      const holder = holdStep[hold]!
      if (!this.isBooked(holder)) continue
      this.held[holdStation[hold]!]!.add(this.start[holder]!, this.holdEnd(hold), sign * holdUnits[hold]!)
    }
  }

  /** Adds (1) or takes back (-1) what the step itself holds, wets and dusts. */
  #switchOwn(step: number, sign: number): void {
    const { holdsOf, holdStation, holdUnits, tackyMin, dusty, room, crews, smallest, minutes } = this.compiled
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      this.held[holdStation[hold]!]!.add(this.start[step]!, this.holdEnd(hold), sign * holdUnits[hold]!)
    }
    if (tackyMin[step]! > 0) {
      this.wet[room[step]!]!.add(this.start[step]!, tackyUntil(this.compiled, step, this.end[step]!), sign)
    }
    if (dusty[step] === 1 && this.crew[step]! >= 0) {
      const total = minutes[step]! + this.setUp[step]! + this.remedy[step]!
      const { sessions } = crews[this.crew[step]!]!
      const written = stretchesOfWork(sessions, this.start[step]!, total, smallest[step]!, this.bounds)
      for (let index = 0; index < written; index += 2) {
        this.dust[room[step]!]!.add(this.bounds[index]!, this.bounds[index + 1]!, sign)
      }
    }
  }

  #placeFacts(): void {
    const { stepCount, state, dusty, room } = this.compiled
    for (let step = 0; step < stepCount; step++) {
      if (state[step] === TO_DO) continue
      this.placed[step] = 1
      this.start[step] = this.facts.start[step]!
      this.end[step] = this.facts.end[step]!
    }
    if (this.isEmptyShop) return
    for (let step = 0; step < stepCount; step++) {
      if (state[step] === TO_DO) continue
      this.#switchOwn(step, 1)
      const work = state[step] === RUNNING ? this.facts.running.get(step) : undefined
      if (work === undefined) continue
      for (const stretch of work.stretches)
        if (dusty[step] === 1) this.dust[room[step]!]!.add(stretch.from, stretch.to, 1)
      const first = work.stretches[0]
      if (first === undefined) continue
      for (const maker of work.makers) this.busy[maker]!.add(first.from, this.end[step]!, step)
    }
  }
}

function copies<T extends { copyFrom(other: T): void }>(originals: readonly T[], make: (index: number) => T): T[] {
  return originals.map((original, index) => {
    const copy = make(index)
    copy.copyFrom(original)
    return copy
  })
}
