import { TO_DO, UNTIL_AFTER, UNTIL_END, UNTIL_START_OF, type Compiled } from '../problem/compiled.ts'
import { cureOver } from '../rules/cure-time.ts'
import { factsOf, type Facts } from '../problem/facts.ts'
import { NEVER } from '../problem/instants.ts'
import { compareObjectives, tardinessOf } from '../rules/measured.ts'
import type { Objective } from '../problem/model.ts'
import { endOfWork, sessionAt, startOfWorkBefore, type Sessions } from '../schedule/sessions.ts'
import { closesAt, leastEndToMeet } from '../rules/windows.ts'

/** Start, crew and set-up of each step still to do, of the best of all schedules. */
export interface ExactSchedule {
  readonly start: Int32Array
  readonly end: Int32Array
  readonly crew: Int32Array
  readonly setUp: Int32Array
  readonly objective: Objective
}

export type ExactAnswer =
  | { readonly kind: 'optimal'; readonly schedule: ExactSchedule }
  /** Nothing keeps all windows and pins; `lag`: the window that was in the way most often, -1 when none was. */
  | { readonly kind: 'none'; readonly lag: number }
  /** The search was too long; the best found by then. */
  | { readonly kind: 'unfinished'; readonly schedule: ExactSchedule | null }

/**
 * The best of all schedules, by complete search over the orders in which the steps start, for problems of a dozen steps.
 *
 * For one order (and one crew for each step) the constraints have a least solution: each start is the least value that
 * the starts before it allow, and where a window or a hold is broken the step that opened it is raised to the least start
 * that keeps it, until nothing changes. As no objective gets worse when steps come earlier, that least schedule is the best of
 * its order, and the best over all orders is the optimum. Branches are cut by the times that calendars and waits alone allow.
 * All windows and pins are kept in any case.
 *
 * @param mostNodes partial orders looked at before giving up
 * @param known a schedule that keeps all windows and pins: only better ones are looked for
 */
export function bestSchedule(compiled: Compiled, mostNodes = 200_000, known: ExactSchedule | null = null): ExactAnswer {
  return new OrderSearch(compiled, mostNodes, known).run()
}

/** Whether the complete search covers everything in a problem, and it is small enough to be worth trying. */
export function isExactlySolvable(
  { state, lagMin, lagTo, dusty, interruptible, tackyMin }: Compiled,
  mostSteps: number,
): boolean {
  let open = 0
  let wet = false
  let dustyPauses = false
  for (let step = 0; step < state.length; step++) {
    if (tackyMin[step]! > 0) wet = true
    if (dusty[step] === 1 && interruptible[step] === 1) dustyPauses = true
    if (state[step] === TO_DO) open += 1
  }
  const backward = lagMin.some((minutes, lag) => minutes < 0 && state[lagTo[lag]!] === TO_DO)
  return open <= mostSteps && !backward && !(wet && dustyPauses)
}

/** A window that four hundred days of calendar cannot keep is not kept: a year holds every season. */
const LONGEST_TRIED = 400 * 1440

/** Raises that are tried, per partial order that may be looked at. */
const RAISES_A_NODE = 5

/** Partial orders of the same steps that are remembered. */
const MOST_KEPT = 64

interface Placed {
  step: number
  crew: number
}

class OrderSearch {
  readonly #compiled: Compiled
  readonly #facts: Facts
  readonly #open: readonly number[]
  readonly #start: Int32Array
  readonly #end: Int32Array
  readonly #setUp: Int32Array
  readonly #crew: Int32Array
  readonly #leastEnd: Int32Array
  readonly #position: Int32Array
  readonly #sequence: Placed[] = []
  readonly #bound: Int32Array
  readonly #topological: readonly number[]
  readonly #blockedBy: Int32Array
  readonly #hasFamilies: boolean
  /** By the set of steps placed: what each partial order leaves to the rest. */
  readonly #seen = new Map<string, Int32Array[]>()
  /** Makers of one kind have the same hours, the same steps that they may do, and nothing begun. */
  readonly #kinds: readonly string[]
  #nodes: number
  #raises: number
  #best: ExactSchedule | null = null

  constructor(compiled: Compiled, mostNodes: number, known: ExactSchedule | null) {
    const { stepCount, state } = compiled
    this.#compiled = compiled
    this.#facts = factsOf(compiled)
    this.#nodes = mostNodes
    this.#raises = RAISES_A_NODE * mostNodes
    this.#best = known
    this.#open = [...state.keys()].filter((step) => state[step] === TO_DO)
    this.#start = this.#facts.start.slice()
    this.#end = this.#facts.end.slice()
    this.#setUp = new Int32Array(stepCount)
    this.#crew = new Int32Array(stepCount).fill(-1)
    this.#leastEnd = new Int32Array(stepCount)
    this.#position = new Int32Array(stepCount).fill(-1)
    this.#bound = new Int32Array(stepCount)
    this.#blockedBy = new Int32Array(compiled.lagCount)
    this.#topological = this.#forward()
    this.#hasFamilies = this.#open.some((step) => compiled.family[step]! >= 0)
    const begun = new Set([...this.#facts.running.values()].flatMap(({ makers }) => makers))
    this.#kinds = compiled.problem.makers.map(({ id, hours }, maker) => {
      if (begun.has(maker) || this.#facts.lastFamily[maker]! >= 0) return id
      const able = compiled.problem.steps.map(({ makers }) => (makers === undefined || makers.includes(id) ? 1 : 0))
      return `kind ${hours.map(({ from, to }) => `${from}-${to}`).join()} ${able.join('')}`
    })
  }

  run(): ExactAnswer {
    if (this.#topological.length < this.#open.length) return { kind: 'unfinished', schedule: null }
    this.#extend(this.#compiled.now)
    if (this.#nodes < 0) return { kind: 'unfinished', schedule: this.#best }
    if (this.#best !== null) return { kind: 'optimal', schedule: this.#best }
    const most = Math.max(0, ...this.#blockedBy)
    return { kind: 'none', lag: most > 0 ? this.#blockedBy.indexOf(most) : -1 }
  }

  /** Steps still to do so that lags lead forward; shorter when they go in a circle. */
  #forward(): number[] {
    const { lagsInto, lagsOutOf, lagFrom, lagTo, state } = this.#compiled
    const waiting = new Map<number, number>()
    for (const step of this.#open) {
      let before = 0
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        if (state[lagFrom[lagsInto.items[at]!]!] === TO_DO) before += 1
      }
      waiting.set(step, before)
    }
    const order = this.#open.filter((step) => waiting.get(step) === 0)
    for (const step of order) {
      for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
        const to = lagTo[lagsOutOf.items[at]!]!
        if (state[to] !== TO_DO) continue
        waiting.set(to, waiting.get(to)! - 1)
        if (waiting.get(to) === 0) order.push(to)
      }
    }
    return order
  }

  #extend(from: number): void {
    if (--this.#nodes < 0) return
    if (this.#sequence.length === this.#open.length) {
      this.#note()
      return
    }
    if (!this.#mayBeBetter(from) || this.#isDominated(from)) return
    const kept = this.#snapshot()
    for (const { step, crew } of this.#choices(from)) {
      this.#sequence.push({ step, crew })
      this.#position[step] = this.#sequence.length - 1
      if (this.#settle()) this.#extend(this.#start[step]!)
      this.#sequence.pop()
      this.#position[step] = -1
      this.#restore(kept)
      if (this.#nodes < 0) return
    }
  }

  /** What can start next, soonest first, so that good schedules are found early. */
  #choices(from: number): Placed[] {
    const { lagsInto, lagFrom, state, crewsOf, minutes } = this.#compiled
    const found: (Placed & { readonly soonest: number })[] = []
    for (const step of this.#open) {
      if (this.#position[step]! >= 0) continue
      let isReady = true
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]! && isReady; at++) {
        const before = lagFrom[lagsInto.items[at]!]!
        if (state[before] === TO_DO && this.#position[before]! < 0) isReady = false
      }
      if (!isReady) continue
      const soonest = Math.max(from, this.#bound[step]!)
      if (minutes[step] === 0) found.push({ step, crew: -1, soonest })
      else for (const crew of this.#differentCrews(crewsOf[step]!)) found.push({ step, crew, soonest })
    }
    return found.sort((a, b) => a.soonest - b.soonest || this.#bound[a.step]! - this.#bound[b.step]! || a.step - b.step)
  }

  /** Of makers who are alike and have not been used yet, any is as good as the other. */
  #differentCrews(crews: readonly number[]): readonly number[] {
    if (crews.length < 2) return crews
    const used = new Set<number>()
    for (const { crew } of this.#sequence)
      if (crew >= 0) for (const maker of this.#compiled.crews[crew]!.makers) used.add(maker)
    const seen = new Set<string>()
    return crews.filter((crew) => {
      const key = this.#compiled.crews[crew]!.makers.map((maker) =>
        used.has(maker) ? `${maker}` : this.#kinds[maker]!,
      )
        .sort()
        .join('|')
      if (seen.has(key)) return false
      seen.add(key)
      return true
    })
  }

  #snapshot(): Int32Array[] {
    return [this.#start, this.#end, this.#setUp, this.#crew, this.#leastEnd].map((each) => each.slice())
  }

  #restore(kept: readonly Int32Array[]): void {
    ;[this.#start, this.#end, this.#setUp, this.#crew, this.#leastEnd].forEach((each, index) => each.set(kept[index]!))
  }

  /** The least schedule of the sequence; false when it has none. */
  #settle(): boolean {
    let position = this.#sequence.length - 1
    for (;;) {
      if (position >= this.#sequence.length) return true
      if (!this.#time(position)) return false
      const back = this.#broken(position)
      if (back === -2) return false
      // Where an order cannot keep a window, it may take a year of small steps to find that out.
      if (back >= 0 && --this.#raises < 0) this.#nodes = -1
      if (this.#nodes < 0) return false
      position = back >= 0 ? back : position + 1
    }
  }

  /** Gives the step at a position its least start after those before it. */
  #time(position: number): boolean {
    const { earliest, pinnedTo, lagsInto, lagFrom, state, minutes } = this.#compiled
    const { step, crew } = this.#sequence[position]!
    let from = Math.max(earliest[step]!, position === 0 ? 0 : this.#start[this.#sequence[position - 1]!.step]!)
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      from = Math.max(from, this.#readyAt(lag, this.#end[lagFrom[lag]!]!))
    }
    const start =
      minutes[step] === 0
        ? this.#instant(position, Math.max(from, this.#leastEnd[step]!))
        : this.#worked(position, crew, from)
    if (start >= NEVER || start >= pinnedTo[step]!) return false
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      if (state[lagFrom[lag]!] !== TO_DO && start > closesAt(this.#compiled, lag, this.#end[lagFrom[lag]!]!)) {
        this.#blockedBy[lag]! += 1
        return false
      }
    }
    return true
  }

  #instant(position: number, from: number): number {
    const { step } = this.#sequence[position]!
    const start = this.#freeInstant(position, from)
    this.#start[step] = this.#end[step] = start
    this.#setUp[step] = 0
    this.#crew[step] = -1
    return start
  }

  #worked(position: number, crew: number, earliest: number): number {
    const { crews, minutes, interruptible, smallest, setUpMinutes, family } = this.#compiled
    const { step } = this.#sequence[position]!
    const { sessions, makers } = crews[crew]!
    let from = earliest
    for (const maker of makers) from = Math.max(from, this.#makerFree(position, maker))
    for (;;) {
      const session = sessionAt(sessions, from)
      if (session >= sessions.count) return NEVER
      const begin = Math.max(from, sessions.from[session]!)
      const setUp =
        family[step]! >= 0 && !this.#isSetUp(position, makers, family[step]!, begin) ? setUpMinutes[step]! : 0
      const total = minutes[step]! + setUp
      const open = sessions.to[session]! - begin
      if (open < (interruptible[step] === 1 ? Math.min(total, Math.max(1, smallest[step]!)) : total)) {
        from = sessions.to[session]!
        continue
      }
      const end =
        interruptible[step] === 1 ? endOfWork(sessions, session, begin, total, smallest[step]!) : begin + total
      if (end >= NEVER) return NEVER
      if (end < this.#leastEnd[step]!) {
        from = Math.max(
          begin + 1,
          interruptible[step] === 1
            ? startOfWorkBefore(sessions, this.#leastEnd[step]!, total)
            : this.#leastEnd[step]! - total,
        )
        continue
      }
      const free = this.#whenFree(position, begin)
      if (free > begin) {
        if (free >= NEVER) return NEVER
        from = free
        continue
      }
      this.#start[step] = begin
      this.#end[step] = end
      this.#setUp[step] = setUp
      this.#crew[step] = crew
      return begin
    }
  }

  #makerFree(position: number, maker: number): number {
    let free = 0
    for (const [step, work] of this.#facts.running)
      if (work.makers.includes(maker)) free = Math.max(free, this.#facts.end[step]!)
    for (let before = 0; before < position; before++) {
      const { step, crew } = this.#sequence[before]!
      if (crew >= 0 && this.#compiled.crews[crew]!.makers.includes(maker)) free = Math.max(free, this.#end[step]!)
    }
    return free
  }

  #isSetUp(position: number, makers: readonly number[], family: number, at: number): boolean {
    const { makerSessions, family: families, crews } = this.#compiled
    return makers.some((maker) => {
      const sessions: Sessions = makerSessions[maker]!
      const opened = sessions.from[sessionAt(sessions, at)]!
      let last = this.#facts.lastFamily[maker]!
      let ended = this.#facts.lastFamilyEnd[maker]!
      const consider = (step: number): void => {
        if (families[step]! < 0 || this.#end[step]! < ended || this.#end[step]! > at) return
        last = families[step]!
        ended = this.#end[step]!
      }
      for (const [step, work] of this.#facts.running) if (work.makers.includes(maker)) consider(step)
      for (let before = 0; before < position; before++) {
        const { step, crew } = this.#sequence[before]!
        if (crew >= 0 && crews[crew]!.makers.includes(maker)) consider(step)
      }
      return last === family && ended > opened && ended <= at
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
    const { capacity, holdsOf, holdStation, holdUnits, tackyMin, dusty, room } = this.#compiled
    const { step } = this.#sequence[position]!
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
    const others = [...this.#facts.start.keys()].filter((other) => this.#isBefore(other, position))
    for (const other of others) {
      if (room[other] !== room[step]) continue
      if (dusty[step] === 1 && tackyMin[other]! > 0) {
        const dry = this.#after(this.#end[other]!, tackyMin[other]!, this.#compiled.tackyClock[other]!)
        if (dry > start) free = Math.max(free, dry)
      }
      if (tackyMin[step]! > 0 && dusty[other] === 1 && this.#end[other]! > start)
        free = Math.max(free, this.#end[other]!)
    }
    return free
  }

  #isBefore(step: number, position: number): boolean {
    if (this.#compiled.state[step] !== TO_DO)
      return this.#compiled.state[step] !== 2 || this.#compiled.tackyMin[step]! > 0
    return this.#position[step]! >= 0 && this.#position[step]! < position
  }

  /** The first time from `from` on at which at most `most` units are held by what comes before in the order. */
  #stationFree(position: number, station: number, most: number, from: number): number {
    const { holdStation, holdStep, holdUnits, state } = this.#compiled
    const ends: { readonly at: number; readonly units: number }[] = []
    let held = 0
    for (let hold = 0; hold < holdStation.length; hold++) {
      const holder = holdStep[hold]!
      if (holdStation[hold] !== station || (state[holder] === TO_DO && !this.#isBefore(holder, position))) continue
      const until = this.#holdEnd(hold, position)
      if (until <= from || until <= this.#start[holder]!) continue
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

  #holdEnd(hold: number, position: number): number {
    const { holdUntil, holdStep, holdMin, holdClock, holdTarget, state } = this.#compiled
    const end = this.#end[holdStep[hold]!]!
    switch (holdUntil[hold]) {
      case UNTIL_END:
        return end
      case UNTIL_AFTER:
        return this.#after(end, holdMin[hold]!, holdClock[hold]!)
      default: {
        const target = holdTarget[hold]!
        const isThisOne = this.#position[target] === position
        if (isThisOne && holdUntil[hold] === UNTIL_START_OF) return 0
        if (state[target] === TO_DO && !this.#isBefore(target, position)) return NEVER
        return holdUntil[hold] === UNTIL_START_OF ? this.#start[target]! : this.#end[target]!
      }
    }
  }

  #after(end: number, minutes: number, clock: number): number {
    return clock < 0 ? end + minutes : cureOver(this.#compiled.clocks[clock]!, end, minutes)
  }

  #readyAt(lag: number, end: number): number {
    return this.#after(end, this.#compiled.lagMin[lag]!, this.#compiled.lagClock[lag]!)
  }

  /** Position of the step that has to be raised for the windows into this one; -1 when all are kept, -2 when none can be. */
  #broken(position: number): number {
    const { lagsInto, lagFrom, lagMax, state } = this.#compiled
    const { step } = this.#sequence[position]!
    let back = -1
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      const before = lagFrom[lag]!
      if (lagMax[lag] === NEVER || state[before] !== TO_DO) continue
      if (this.#start[step]! <= closesAt(this.#compiled, lag, this.#end[before]!)) continue
      const least = leastEndToMeet(this.#compiled, lag, this.#start[step]!)
      if (least > this.#compiled.now + LONGEST_TRIED) return -2
      this.#leastEnd[before] = Math.max(this.#leastEnd[before]!, least)
      this.#blockedBy[lag]! += 1
      back = back < 0 ? this.#position[before]! : Math.min(back, this.#position[before]!)
    }
    return back
  }

  /** Whether some completion of the sequence may beat the best: by the times that calendars and waits alone allow. */
  #mayBeBetter(from: number): boolean {
    const { earliest, lagsInto, lagFrom, crewsOf, crews, minutes, interruptible, smallest } = this.#compiled
    for (const step of this.#topological) {
      if (this.#position[step]! >= 0) {
        this.#bound[step] = this.#start[step]!
        continue
      }
      let start = Math.max(from, earliest[step]!)
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        start = Math.max(start, this.#readyAt(lag, this.#end[lagFrom[lag]!]!))
      }
      let end = minutes[step] === 0 ? start : NEVER
      let begin = minutes[step] === 0 ? start : NEVER
      for (const crew of minutes[step] === 0 ? [] : crewsOf[step]!) {
        const { sessions } = crews[crew]!
        for (let session = sessionAt(sessions, start); session < sessions.count; session++) {
          const at = Math.max(start, sessions.from[session]!)
          const open = sessions.to[session]! - at
          if (
            open < (interruptible[step] === 1 ? Math.min(minutes[step]!, Math.max(1, smallest[step]!)) : minutes[step]!)
          )
            continue
          begin = Math.min(begin, at)
          end = Math.min(
            end,
            interruptible[step] === 1
              ? endOfWork(sessions, session, at, minutes[step]!, smallest[step]!)
              : at + minutes[step]!,
          )
          break
        }
      }
      if (begin >= this.#compiled.pinnedTo[step]! || end >= NEVER) return false
      this.#bound[step] = begin
      this.#end[step] = end
    }
    return this.#best === null || compareObjectives(this.#objective(), this.#best.objective) < 0
  }

  /**
   * Whether another order of the same steps leaves makers, stations, air and what follows free no later, with no
   * commission further on. Not asked while a window is open (what is placed may still be raised) or a machine set up.
   */
  #isDominated(from: number): boolean {
    if (this.#hasFamilies || this.#sequence.length < 2 || this.#hasOpenWindow()) return false
    const legacy = this.#legacy(from)
    const key = this.#open.map((step) => (this.#position[step]! >= 0 ? '1' : '0')).join('')
    const others = this.#seen.get(key)
    if (others === undefined) {
      this.#seen.set(key, [legacy])
      return false
    }
    if (others.some((other) => other.every((value, index) => value <= legacy[index]!))) return true
    if (others.length < MOST_KEPT) others.push(legacy)
    return false
  }

  #hasOpenWindow(): boolean {
    const { lagMax, lagFrom, lagTo, state } = this.#compiled
    for (let lag = 0; lag < lagMax.length; lag++) {
      if (lagMax[lag] === NEVER || state[lagFrom[lag]!] !== TO_DO || state[lagTo[lag]!] !== TO_DO) continue
      if (this.#position[lagFrom[lag]!]! >= 0 && this.#position[lagTo[lag]!]! < 0) return true
    }
    return false
  }

  /** What the placed steps leave to the others, each number the less the better. */
  #legacy(from: number): Int32Array {
    const {
      commissionCount,
      commission,
      makerSessions,
      lagsInto,
      lagFrom,
      holdStep,
      holdStation,
      state,
      room,
      roomCount,
      dusty,
      tackyMin,
      tackyClock,
    } = this.#compiled
    const numbers: number[] = [from]
    const position = this.#sequence.length
    for (let maker = 0; maker < makerSessions.length; maker++)
      numbers.push(Math.max(from, this.#makerFree(position, maker)))
    for (const step of this.#open) {
      if (this.#position[step]! >= 0) continue
      let ready = from
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        if (this.#position[lagFrom[lag]!]! >= 0) ready = Math.max(ready, this.#readyAt(lag, this.#end[lagFrom[lag]!]!))
      }
      numbers.push(ready)
    }
    const done = new Int32Array(commissionCount)
    const dry = new Int32Array(roomCount).fill(from)
    const settled = new Int32Array(roomCount).fill(from)
    for (const { step } of this.#sequence) {
      done[commission[step]!] = Math.max(done[commission[step]!]!, this.#end[step]!)
      if (tackyMin[step]! > 0)
        dry[room[step]!] = Math.max(
          dry[room[step]!]!,
          this.#after(this.#end[step]!, tackyMin[step]!, tackyClock[step]!),
        )
      if (dusty[step] === 1) settled[room[step]!] = Math.max(settled[room[step]!]!, this.#end[step]!)
    }
    for (let hold = 0; hold < holdStation.length; hold++) {
      if (state[holdStep[hold]!] === TO_DO && this.#position[holdStep[hold]!]! < 0) continue
      numbers.push(Math.max(from, this.#holdEnd(hold, position)))
    }
    return Int32Array.from([...numbers, ...done, ...dry, ...settled])
  }

  #objective(): Objective {
    const { commissionCount, commission, promise, weight, now, announced } = this.#compiled
    const done = new Int32Array(commissionCount).fill(-1)
    let last = now
    for (let step = 0; step < this.#end.length; step++) {
      done[commission[step]!] = Math.max(done[commission[step]!]!, this.#end[step]!)
      last = Math.max(last, this.#end[step]!)
    }
    let weightedTardiness = 0
    let weightedCompletion = 0
    done.forEach((at, index) => {
      if (promise[index] === NEVER) weightedCompletion += weight[index]! * Math.max(0, at - now)
      else weightedTardiness += tardinessOf(this.#compiled, index, at)
    })
    let moved = 0
    for (const { step } of this.#sequence)
      if (announced[step]! >= 0 && announced[step] !== this.#start[step]) moved += 1
    return { missedWindows: 0, weightedTardiness, weightedCompletion, makespanMin: last - now, moved }
  }

  #note(): void {
    const objective = this.#objective()
    if (this.#best !== null && compareObjectives(objective, this.#best.objective) >= 0) return
    this.#best = {
      start: this.#start.slice(),
      end: this.#end.slice(),
      crew: this.#crew.slice(),
      setUp: this.#setUp.slice(),
      objective,
    }
  }
}
