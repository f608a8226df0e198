import { DONE, TO_DO, UNTIL_START_OF, type Compiled } from '../problem/compiled.ts'
import { factsOf, type Facts } from '../problem/facts.ts'
import { NEVER } from '../problem/instants.ts'
import { DAY_MIN } from '../../time/day.ts'
import { holdOver } from '../rules/holds.ts'
import { isStillSetUp } from '../rules/set-up.ts'
import { endOfStep, leastOpen, startToEndBy } from '../rules/stretches.ts'
import { readyAfterLag, tackyUntil } from '../rules/waits.ts'
import { closesAt, leastEndToMeet } from '../rules/windows.ts'
import { sessionAt } from '../schedule/sessions.ts'

/** A window that four hundred days of calendar cannot keep is not kept: a year holds every season. */
const LONGEST_TRIED = 400 * DAY_MIN

/** A step in its turn, and who does it: -1 for a milestone. */
export interface InTurn {
  readonly step: number
  readonly crew: number
}

/** What cannot be settled: no times keep the order, or it may take a year of small steps to find that out. */
export type Settling = 'settled' | 'impossible' | 'given-up'

/**
 * The least times of steps that start in a given order, one crew for each: each start is the least value that the starts before it
 * allow, and where a window is broken the step that opened it is raised to the least end that keeps it, until nothing changes.
 */
export class LeastTimes {
  readonly compiled: Compiled
  readonly facts: Facts
  readonly open: readonly number[]
  readonly start: Int32Array
  readonly end: Int32Array
  readonly setUp: Int32Array
  readonly crew: Int32Array
  readonly #leastEnd: Int32Array
  /** Of each step in the order; -1: not in it yet. */
  readonly position: Int32Array
  readonly sequence: InTurn[] = []
  /** How often each window was in the way. */
  readonly blockedBy: Int32Array
  #raises: number

  /** @param mostRaises over all orders that are asked about */
  constructor(compiled: Compiled, mostRaises: number) {
    const { stepCount, state } = compiled
    this.compiled = compiled
    this.facts = factsOf(compiled)
    this.#raises = mostRaises
    this.open = [...state.keys()].filter((step) => state[step] === TO_DO)
    this.start = this.facts.start.slice()
    this.end = this.facts.end.slice()
    this.setUp = new Int32Array(stepCount)
    this.crew = new Int32Array(stepCount).fill(-1)
    this.#leastEnd = new Int32Array(stepCount)
    this.position = new Int32Array(stepCount).fill(-1)
    this.blockedBy = new Int32Array(compiled.lagCount)
  }

  push(next: InTurn): void {
    this.sequence.push(next)
    this.position[next.step] = this.sequence.length - 1
  }

  pop(): void {
    const last = this.sequence.pop()
    if (last !== undefined) this.position[last.step] = -1
  }

  /** Gives the steps of the sequence their least times after its last was pushed. */
  settle(): Settling {
    let position = this.sequence.length - 1
    for (;;) {
      if (position >= this.sequence.length) return 'settled'
      if (!this.#time(position)) return 'impossible'
      const back = this.#broken(position)
      if (back === -2) return 'impossible'
      if (back >= 0 && --this.#raises < 0) return 'given-up'
      position = back >= 0 ? back : position + 1
    }
  }

  snapshot(): Int32Array[] {
    return [this.start, this.end, this.setUp, this.crew, this.#leastEnd].map((each) => each.slice())
  }

  restore(kept: readonly Int32Array[]): void {
    ;[this.start, this.end, this.setUp, this.crew, this.#leastEnd].forEach((each, index) => each.set(kept[index]!))
  }

  /** Gives the step at a position its least start after those before it. */
  #time(position: number): boolean {
    const { earliest, pinnedTo, lagsInto, lagFrom, state, minutes } = this.compiled
    const { step, crew } = this.sequence[position]!
    let from = Math.max(earliest[step]!, position === 0 ? 0 : this.start[this.sequence[position - 1]!.step]!)
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      from = Math.max(from, readyAfterLag(this.compiled, lag, this.end[lagFrom[lag]!]!))
    }
    const start =
      minutes[step] === 0
        ? this.#instant(position, Math.max(from, this.#leastEnd[step]!))
        : this.#worked(position, crew, from)
    if (start >= NEVER || start >= pinnedTo[step]!) return false
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      if (state[lagFrom[lag]!] !== TO_DO && start > closesAt(this.compiled, lag, this.end[lagFrom[lag]!]!)) {
        this.blockedBy[lag]! += 1
        return false
      }
    }
    return true
  }

  /** Position of the step that has to be raised for the windows into this one; -1 when all are kept, -2 when none can be. */
  #broken(position: number): number {
    const { lagsInto, lagFrom, lagMax, state } = this.compiled
    const { step } = this.sequence[position]!
    let back = -1
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      const before = lagFrom[lag]!
      if (lagMax[lag] === NEVER || state[before] !== TO_DO) continue
      if (this.start[step]! <= closesAt(this.compiled, lag, this.end[before]!)) continue
      const least = leastEndToMeet(this.compiled, lag, this.start[step]!)
      if (least > this.compiled.now + LONGEST_TRIED) return -2
      this.#leastEnd[before] = Math.max(this.#leastEnd[before]!, least)
      this.blockedBy[lag]! += 1
      back = back < 0 ? this.position[before]! : Math.min(back, this.position[before]!)
    }
    return back
  }

  #instant(position: number, from: number): number {
    const { step } = this.sequence[position]!
    const start = this.#freeInstant(position, from)
    this.start[step] = this.end[step] = start
    this.setUp[step] = 0
    this.crew[step] = -1
    return start
  }

  #worked(position: number, crew: number, earliest: number): number {
    const { crews, minutes, setUpMinutes, family } = this.compiled
    const { step } = this.sequence[position]!
    const { sessions, makers } = crews[crew]!
    let from = earliest
    for (const maker of makers) from = Math.max(from, this.makerFree(position, maker))
    for (;;) {
      const session = sessionAt(sessions, from)
      if (session >= sessions.count) return NEVER
      const begin = Math.max(from, sessions.from[session]!)
      const setUp =
        family[step]! >= 0 && !this.#isSetUp(position, makers, family[step]!, begin) ? setUpMinutes[step]! : 0
      const total = minutes[step]! + setUp
      const open = sessions.to[session]! - begin
      if (open < leastOpen(this.compiled, step, total)) {
        from = sessions.to[session]!
        continue
      }
      const end = endOfStep(this.compiled, step, sessions, session, begin, total)
      if (end >= NEVER) return NEVER
      if (end < this.#leastEnd[step]!) {
        from = Math.max(begin + 1, startToEndBy(this.compiled, step, sessions, this.#leastEnd[step]!, total))
        continue
      }
      const free = this.#whenFree(position, begin)
      if (free > begin) {
        if (free >= NEVER) return NEVER
        from = free
        continue
      }
      this.start[step] = begin
      this.end[step] = end
      this.setUp[step] = setUp
      this.crew[step] = crew
      return begin
    }
  }

  makerFree(position: number, maker: number): number {
    let free = 0
    for (const [step, work] of this.facts.running)
      if (work.makers.includes(maker)) free = Math.max(free, this.facts.end[step]!)
    for (let before = 0; before < position; before++) {
      const { step, crew } = this.sequence[before]!
      if (crew >= 0 && this.compiled.crews[crew]!.makers.includes(maker)) free = Math.max(free, this.end[step]!)
    }
    return free
  }

  #isSetUp(position: number, makers: readonly number[], family: number, at: number): boolean {
    const { makerSessions, family: families, crews } = this.compiled
    return makers.some((maker) => {
      const sessions = makerSessions[maker]!
      const opened = sessions.from[sessionAt(sessions, at)]!
      let last = this.facts.lastFamily[maker]!
      let ended = this.facts.lastFamilyEnd[maker]!
      const consider = (step: number): void => {
        if (families[step]! < 0 || this.end[step]! < ended || this.end[step]! > at) return
        last = families[step]!
        ended = this.end[step]!
      }
      for (const [step, work] of this.facts.running) if (work.makers.includes(maker)) consider(step)
      for (let before = 0; before < position; before++) {
        const { step, crew } = this.sequence[before]!
        if (crew >= 0 && crews[crew]!.makers.includes(maker)) consider(step)
      }
      return isStillSetUp(family, last, ended, opened, at)
    })
  }

  #freeInstant(position: number, from: number): number {
    let at = from
    for (let free = this.#whenFree(position, at); free > at && free < NEVER; free = this.#whenFree(position, at))
      at = free
    return this.#whenFree(position, at)
  }

  /** When stations and air allow a step to start at `start`: then, or the next time to try; NEVER when what is in the way ends later in the order. */
  #whenFree(position: number, start: number): number {
    const { capacity, holdsOf, holdStation, holdUnits, tackyMin, dusty, room } = this.compiled
    const { step } = this.sequence[position]!
    let free = start
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      const station = holdStation[hold]!
      if (holdUnits[hold] === 0) continue
      let units = 0
      for (let other = holdsOf.from[step]!; other < holdsOf.from[step + 1]!; other++) {
        if (holdStation[holdsOf.items[other]!] === station) units += holdUnits[holdsOf.items[other]!]!
      }
      free = Math.max(free, this.#stationFree(position, station, capacity[station]! - units, start))
    }
    if (free > start) return free
    const others = [...this.facts.start.keys()].filter((other) => this.#isBefore(other, position))
    for (const other of others) {
      if (room[other] !== room[step]) continue
      if (dusty[step] === 1 && tackyMin[other]! > 0) {
        const dry = tackyUntil(this.compiled, other, this.end[other]!)
        if (dry > start) free = Math.max(free, dry)
      }
      if (tackyMin[step]! > 0 && dusty[other] === 1 && this.end[other]! > start) free = Math.max(free, this.end[other]!)
    }
    return free
  }

  #isBefore(step: number, position: number): boolean {
    if (this.compiled.state[step] !== TO_DO)
      return this.compiled.state[step] !== DONE || this.compiled.tackyMin[step]! > 0
    return this.position[step]! >= 0 && this.position[step]! < position
  }

  /** The first time from `from` on at which at most `most` units are held by what comes before in the order. */
  #stationFree(position: number, station: number, most: number, from: number): number {
    const { holdStation, holdStep, holdUnits, state } = this.compiled
    const ends: { readonly at: number; readonly units: number }[] = []
    let held = 0
    for (let hold = 0; hold < holdStation.length; hold++) {
      const holder = holdStep[hold]!
      if (holdStation[hold] !== station || (state[holder] === TO_DO && !this.#isBefore(holder, position))) continue
      const until = this.holdEnd(hold, position)
      if (until <= from || until <= this.start[holder]!) continue
      held += holdUnits[hold]!
      ends.push({ at: until, units: holdUnits[hold]! })
    }
    if (held <= most) return from
    ends.sort((a, b) => a.at - b.at)
    for (const { at, units } of ends) {
      held -= units
      if (held <= most) return at
    }
    return NEVER
  }

  /** When what a hold takes comes free for the step at a position; NEVER: what closes it comes later in the order. */
  holdEnd(hold: number, position: number): number {
    const { holdUntil, holdStep, holdTarget, state } = this.compiled
    const target = holdTarget[hold]!
    if (target >= 0) {
      if (this.position[target] === position && holdUntil[hold] === UNTIL_START_OF) return 0
      if (state[target] === TO_DO && !this.#isBefore(target, position)) return NEVER
    }
    return holdOver(this.compiled, hold, this.end[holdStep[hold]!]!, this)
  }
}
