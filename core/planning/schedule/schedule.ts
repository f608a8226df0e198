import { placingOrder, type Blocks } from './blocks.ts'
import { BusyTimes } from './busy-times.ts'
import {
  RUNNING,
  TO_DO,
  UNTIL_AFTER,
  UNTIL_END,
  UNTIL_END_OF,
  UNTIL_START_OF,
  type Compiled,
} from '../problem/compiled.ts'
import { cureOver } from '../rules/cure-time.ts'
import { factsOf, type Facts } from '../problem/facts.ts'
import { FullStretches } from './full-stretches.ts'
import { NEVER } from '../problem/instants.ts'
import type { Timetable } from '../rules/measured.ts'
import { stepsInTurn, type PlannedTimes } from './planned-times.ts'
import { endOfWork, sessionAt, startOfWorkBefore, stretchesOfWork } from './sessions.ts'
import { StepFunction } from './step-function.ts'
import { closesAt, leastEndToMeet } from '../rules/windows.ts'

/** Why a block cannot be placed: the step at which it failed and what was in the way. */
export type Obstacle =
  | { readonly kind: 'no-hours'; readonly step: number }
  | { readonly kind: 'station'; readonly step: number; readonly station: number }
  | { readonly kind: 'window'; readonly step: number; readonly lag: number }
  | { readonly kind: 'wait'; readonly step: number; readonly lag: number }

const DAY = 1440
/** How long a window with a remedy is waited for before the remedy is taken: four weeks hold every weekly pattern. */
const SOFT_PATIENCE = 28 * DAY
/** The same for a window without a remedy: a year holds every season. */
const HARD_PATIENCE = 400 * DAY
const MOST_RAISES = 20_000
/** After so many raises it is worth finding out whether a window can be met at all. */
const RAISES_BEFORE_DOUBT = 8
const MOST_ORDERS = 6

type Placing = 'placed' | 'blocked' | 'raise'

/**
 * A schedule being built: who is busy when, what is held, wet and dusty. Steps are placed block by block, each at the
 * earliest time at which it disturbs nothing that stands already (serial schedule generation). Where a window or a hold
 * cannot be kept that way, the step that opened it is raised to the least start that lets it be kept, and the block is
 * placed again from there.
 */
export class Schedule {
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

  readonly #busy: BusyTimes[]
  readonly #held: StepFunction[]
  readonly #wet: StepFunction[]
  readonly #dust: StepFunction[]
  readonly #full: FullStretches
  readonly #untouched: { busy: BusyTimes[]; held: StepFunction[]; wet: StepFunction[]; dust: StepFunction[] }
  /** Blocks that close what started steps hold, per station. */
  readonly #closers: readonly (readonly number[])[]

  readonly #raisedStart: Int32Array
  readonly #raisedEnd: Int32Array
  readonly #gaveUp: Uint8Array
  /** Lags whose window cannot be met even in an empty shop: 0 unknown, 1 can be met, 2 cannot. */
  readonly #hopeless: Uint8Array
  readonly #isEmptyShop: boolean
  #emptyShop: Schedule | null = null

  // The place found last, and the raise asked for last: fields instead of objects, since they are set millions of times.
  #foundStart = 0
  #foundEnd = 0
  #foundSetUp = 0
  #foundCrew = -1
  #raiseStep = -1
  #raiseStart = 0
  #raiseEnd = 0
  #raiseLag = -1
  readonly #bounds: number[] = []
  /** Blocks that wait for a station while what closes it is placed. */
  readonly #waiting = new Set<number>()

  constructor(compiled: Compiled, blocks: Blocks, emptyShop = false) {
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
    this.#raisedStart = new Int32Array(stepCount)
    this.#raisedEnd = new Int32Array(stepCount)
    this.#gaveUp = new Uint8Array(lagCount)
    this.#hopeless = new Uint8Array(lagCount)
    this.#isEmptyShop = emptyShop
    const each = <T>(count: number, make: () => T): T[] => Array.from({ length: count }, make)
    const makeRoom = () => each(roomCount, () => new StepFunction())
    this.#busy = compiled.makerSessions.map((sessions) => new BusyTimes(sessions))
    this.#held = each(problem.stations.length, () => new StepFunction())
    this.#wet = makeRoom()
    this.#dust = makeRoom()
    this.#full = new FullStretches(roomCount)
    this.#placeFacts()
    this.#untouched = {
      busy: copies(this.#busy, (maker) => new BusyTimes(compiled.makerSessions[maker]!)),
      held: copies(this.#held, () => new StepFunction()),
      wet: copies(this.#wet, () => new StepFunction()),
      dust: copies(this.#dust, () => new StepFunction()),
    }
    this.#closers = this.#closersOfFacts()
  }

  /** Back to what has already started. */
  reset(): void {
    const { busy, held, wet, dust } = this.#untouched
    this.#full.forget()
    this.#busy.forEach((each, index) => each.copyFrom(busy[index]!))
    this.#held.forEach((each, index) => each.copyFrom(held[index]!))
    this.#wet.forEach((each, index) => each.copyFrom(wet[index]!))
    this.#dust.forEach((each, index) => each.copyFrom(dust[index]!))
    const { state } = this.compiled
    for (let step = 0; step < this.placed.length; step++) this.placed[step] = state[step] === TO_DO ? 0 : 1
    this.missed.fill(0)
  }

  /** Places all blocks in the order given, each after those that lead to it. False: see `obstacle`. */
  build(order: ArrayLike<number>): boolean {
    this.reset()
    for (let position = 0; position < order.length; position++) if (!this.place(order[position]!)) return false
    return true
  }

  /** Places a block and what leads to it. False: nothing of the block is placed, see `obstacle`. */
  place(block: number): boolean {
    if (this.isPlaced(block)) return true
    for (const before of this.blocks.before[block]!) if (!this.place(before)) return false
    if (this.#placeAlone(block)) return true
    // What started steps hold may be in the way until the blocks that close it are placed.
    const obstacle = this.obstacle
    if (obstacle?.kind !== 'station' || this.#waiting.has(block)) return false
    this.#waiting.add(block)
    let closedSome = false
    for (const closer of this.#closers[obstacle.station]!) {
      if (closer === block || this.isPlaced(closer)) continue
      if (this.#leadsTo(block, closer)) continue
      if (this.place(closer)) closedSome = true
    }
    this.#waiting.delete(block)
    // One of the closers may have had to place this block itself.
    if (this.isPlaced(block)) return true
    if (closedSome && this.#placeAlone(block)) return true
    this.obstacle = obstacle
    return false
  }

  /**
   * Takes over the times of a plan for the steps that it knows. False, with nothing taken over, where the plan does not
   * hold here: a step that is not to be done any more, other hours, a constraint that it breaks.
   */
  resume(plan: PlannedTimes): boolean {
    this.reset()
    const isKept = stepsInTurn(this.compiled, plan).every((step) => this.#takeOver(step, plan)) && this.#isConsistent()
    if (!isKept) this.reset()
    return isKept
  }

  /**
   * Puts a block where a plan has it, if that is still free and what leads to it is placed and leaves it in time. False:
   * nothing of it is placed.
   */
  keep(block: number, plan: PlannedTimes): boolean {
    const { lagsInto, lagFrom, lagRemedy, state } = this.compiled
    const steps = this.blocks.steps[block]!
    for (const before of this.blocks.before[block]!) if (!this.isPlaced(before)) return false
    let isKept = true
    let position = 0
    for (; isKept && position < steps.length; position++) {
      const step = steps[position]!
      if (plan.isKnown[step] === 0 || plan.remedy[step]! > 0 || !this.#takeOver(step, plan)) break
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        const from = lagFrom[lag]!
        if (this.placed[from] === 0) {
          isKept = false
          continue
        }
        const isMissed = this.start[step]! > closesAt(this.compiled, lag, this.end[from]!)
        if (isMissed && state[from] !== TO_DO && lagRemedy[lag]! <= 0) this.missed[lag] = 1
        else if (isMissed || this.start[step]! < this.readyAt(lag, this.end[from]!)) isKept = false
      }
      isKept &&= this.#closesInTime(step)
    }
    if (isKept && position === steps.length) return true
    this.#unbookFrom(steps, 0, steps.length - 1)
    return false
  }

  isPlaced(block: number): boolean {
    return this.placed[this.blocks.steps[block]![0]!] === 1
  }

  /** Whether everything that is held until a placed step fits as long as it is held. */
  #closesInTime(step: number): boolean {
    const { holdsClosedBy } = this.compiled
    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      if (this.placed[this.compiled.holdStep[hold]!] === 1 && this.#overHeld(hold) >= 0) return false
    }
    return true
  }

  #takeOver(step: number, plan: PlannedTimes): boolean {
    const { crews, minutes, interruptible, smallest, family, setUpMinutes, earliest } = this.compiled
    const start = plan.start[step]!
    const end = plan.end[step]!
    const crew = plan.crew[step]!
    const total = minutes[step]! + plan.setUp[step]! + plan.remedy[step]!
    if (start < earliest[step]!) return false
    if (total > 0) {
      if (crew < 0) return false
      const { makers, sessions } = crews[crew]!
      const session = sessionAt(sessions, start)
      if (session >= sessions.count || sessions.from[session]! > start) return false
      const open = sessions.to[session]! - start
      const isWorth = interruptible[step] === 1 ? open >= Math.min(total, smallest[step]!) : open >= total
      if (!isWorth || endOfWork(sessions, session, start, total, smallest[step]!) !== end) return false
      if (family[step]! >= 0) {
        const setUp = this.#isSetUp(makers, family[step]!, start) ? 0 : setUpMinutes[step]!
        if (setUp !== plan.setUp[step] || this.#disturbedUntil(makers, family[step]!, end) >= 0) return false
      } else if (plan.setUp[step] !== 0) return false
      for (const maker of makers) {
        const busy = this.#busy[maker]!
        const next = busy.after(start)
        if (next < busy.size && busy.from[next]! < end) return false
      }
    } else if (start !== end || crew >= 0) return false
    this.#openClosers(step, -1)
    // A milestone waits for what it holds, but where it was planned first others need not keep clear of an instant.
    const clash = this.#clash(step, start, end, crew, total, total === 0)
    this.#openClosers(step, 1)
    if (clash >= 0) return false
    this.#foundStart = start
    this.#foundEnd = end
    this.#foundSetUp = plan.setUp[step]!
    this.#foundCrew = crew
    this.#markFound(step, plan.remedy[step]!)
    return true
  }

  /** Whether the lags between placed steps and the holds that placed steps close are kept; notes the windows that are missed. */
  #isConsistent(): boolean {
    const { lagCount, lagFrom, lagTo, lagRemedy, state, holdTarget, holdStep, family, setUpMinutes, crews } =
      this.compiled
    const remedies = new Int32Array(this.placed.length)
    for (let lag = 0; lag < lagCount; lag++) {
      const from = lagFrom[lag]!
      const to = lagTo[lag]!
      if (this.placed[from] === 0 || this.placed[to] === 0 || state[to] !== TO_DO) continue
      if (this.start[to]! < this.readyAt(lag, this.end[from]!)) return false
      if (this.start[to]! <= closesAt(this.compiled, lag, this.end[from]!)) continue
      if (!this.#mayMiss(lag)) return false
      this.missed[lag] = 1
      remedies[to]! += Math.max(0, lagRemedy[lag]!)
    }
    for (let hold = 0; hold < holdTarget.length; hold++) {
      if (holdTarget[hold]! < 0 || this.placed[holdTarget[hold]!] === 0 || this.placed[holdStep[hold]!] === 0) continue
      if (this.#overHeld(hold) >= 0) return false
    }
    for (let step = 0; step < this.placed.length; step++) {
      if (this.placed[step] === 0 || state[step] !== TO_DO) continue
      if (this.remedy[step] !== remedies[step]) return false
      const crew = this.crew[step]!
      if (crew < 0 || family[step]! < 0) continue
      const expected = this.#isSetUp(crews[crew]!.makers, family[step]!, this.start[step]!) ? 0 : setUpMinutes[step]!
      if (this.setUp[step] !== expected) return false
    }
    return true
  }

  /** Takes a placed block out again. What follows it must have been taken out before. */
  remove(block: number): void {
    const steps = this.blocks.steps[block]!
    this.#full.forget()
    for (let position = steps.length - 1; position >= 0; position--) {
      if (this.placed[steps[position]!] === 1) this.#unbook(steps[position]!)
    }
  }

  /**
   * After a step was taken out: a step behind it in the same session whose set-up is not right any more, because it was
   * shared with the one taken out, or need not be paid again; -1 when there is none.
   */
  setUpUpsetBy(removed: number): number {
    const crew = this.crew[removed]!
    const { crews, family, setUpMinutes } = this.compiled
    if (crew < 0 || family[removed]! < 0) return -1
    for (const maker of crews[crew]!.makers) {
      const next = this.#nextOfFamily(maker, this.end[removed]!)
      if (next < 0 || this.compiled.state[next] !== TO_DO) continue
      const isThere = this.#isSetUp(crews[this.crew[next]!]!.makers, family[next]!, this.start[next]!)
      if (this.setUp[next] !== (isThere ? 0 : setUpMinutes[next])) return next
    }
    return -1
  }

  /** Puts a step back where it was, with the values that `start`, `end`, `crew`, `setUp` and `remedy` have for it. */
  restore(step: number): void {
    this.#book(step)
  }

  /** Places a block as a timetable of the same problem has it; the caller knows that it fits. */
  copyBlock(block: number, other: Timetable): void {
    const { lagsInto } = this.compiled
    for (const step of this.blocks.steps[block]!) {
      this.start[step] = other.start[step]!
      this.end[step] = other.end[step]!
      this.crew[step] = other.crew[step]!
      this.setUp[step] = other.setUp[step]!
      this.remedy[step] = other.remedy[step]!
      this.#book(step)
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++)
        this.missed[lagsInto.items[at]!] = other.missed[lagsInto.items[at]!]!
    }
  }

  /** The instant from which the minimum of a lag is over, when the step before it ends at `end`. */
  readyAt(lag: number, end: number): number {
    const { lagClock, lagMin, clocks } = this.compiled
    const clock = lagClock[lag]!
    return clock < 0 ? end + lagMin[lag]! : cureOver(clocks[clock]!, end, lagMin[lag]!)
  }

  /** End of what a placed step holds; NEVER while the step that closes it is not placed. */
  holdEnd(hold: number): number {
    const { holdUntil, holdStep, holdMin, holdClock, holdTarget } = this.compiled
    const end = this.end[holdStep[hold]!]!
    switch (holdUntil[hold]) {
      case UNTIL_END:
        return end
      case UNTIL_AFTER:
        return this.#after(end, holdMin[hold]!, holdClock[hold]!)
      default: {
        const target = holdTarget[hold]!
        if (this.placed[target] === 0) return NEVER
        return holdUntil[hold] === UNTIL_START_OF ? this.start[target]! : this.end[target]!
      }
    }
  }

  /** Until when a coat is tacky that ends at `end`. */
  tackyUntil(step: number, end: number): number {
    return this.#after(end, this.compiled.tackyMin[step]!, this.compiled.tackyClock[step]!)
  }

  #after(end: number, minutes: number, clock: number): number {
    return clock < 0 ? end + minutes : cureOver(this.compiled.clocks[clock]!, end, minutes)
  }

  #leadsTo(from: number, to: number): boolean {
    const seen = new Set<number>([to])
    const next = [to]
    for (let block = next.pop(); block !== undefined; block = next.pop()) {
      if (block === from) return true
      for (const before of this.blocks.before[block]!) {
        if (seen.has(before)) continue
        seen.add(before)
        next.push(before)
      }
    }
    return false
  }

  // Placing a block

  #placeAlone(block: number): boolean {
    const isPlaced = this.#placeInSomeOrder(block)
    this.#full.settle()
    return isPlaced
  }

  #placeInSomeOrder(block: number): boolean {
    const steps = this.blocks.steps[block]!
    if (this.#placeInOrder(steps)) return true
    if (steps.length < 3 || this.#isEmptyShop) return false
    const first = this.obstacle
    let seed = block + 1
    const chance = (): number => {
      seed = (Math.imul(seed, 1_103_515_245) + 12_345) & 0x7fffffff
      return seed / 0x80000000
    }
    for (let attempt = 1; attempt < MOST_ORDERS; attempt++) {
      if (this.#placeInOrder(placingOrder(this.compiled, steps, chance))) return true
    }
    this.obstacle = first
    return false
  }

  #placeInOrder(order: readonly number[]): boolean {
    const gaveUp = this.#gaveUp
    const { lagsInto } = this.compiled
    for (const step of order) {
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) gaveUp[lagsInto.items[at]!] = 0
    }
    for (;;) {
      const lag = this.#tryInOrder(order)
      if (lag === -1) return true
      if (lag === -2) return false
      if (gaveUp[lag] === 1) {
        // Given up already, and still in the way: what it leads to stands before what it comes from in this order.
        this.obstacle = { kind: 'window', step: this.compiled.lagTo[lag]!, lag }
        return false
      }
      gaveUp[lag] = 1
    }
  }

  /** -1: placed; -2: cannot be placed; otherwise a lag whose window has to be given up. */
  #tryInOrder(order: readonly number[]): number {
    for (const step of order) this.#raisedStart[step] = this.#raisedEnd[step] = 0
    let raises = 0
    let firstStart = -1
    let lastLag = -1
    let position = 0
    while (position < order.length) {
      const step = order[position]!
      const placing = this.#placeStep(step)
      if (placing === 'placed') {
        if (firstStart < 0) firstStart = this.start[step]!
        position += 1
        continue
      }
      if (placing === 'blocked') {
        this.#unbookFrom(order, 0, position - 1)
        if (lastLag < 0) return -2
        if (this.#mayMiss(lastLag)) return lastLag
        this.obstacle = { kind: 'window', step: this.compiled.lagTo[lastLag]!, lag: lastLag }
        return -2
      }
      raises += 1
      const lag = this.#raiseLag
      const raised = this.#raiseStep
      const to = Math.max(this.#raiseStart, this.#raiseEnd)
      if (lag >= 0) lastLag = lag
      const tooLate =
        raises > MOST_RAISES ||
        to >= NEVER ||
        (lag >= 0 && raises > RAISES_BEFORE_DOUBT && this.#isHopeless(lag)) ||
        to > this.#patience(lag, firstStart < 0 ? this.compiled.now : firstStart)
      if (tooLate) {
        this.#unbookFrom(order, 0, position)
        if (lag >= 0 && this.#mayMiss(lag)) return lag
        if (lastLag >= 0 && this.#mayMiss(lastLag)) return lastLag
        if (lag >= 0) this.obstacle = { kind: 'window', step, lag }
        else if (lastLag >= 0) this.obstacle = { kind: 'window', step: this.compiled.lagTo[lastLag]!, lag: lastLag }
        else this.obstacle = { kind: 'no-hours', step }
        return -2
      }
      let back = position
      while (back >= 0 && order[back] !== raised) back -= 1
      if (back < 0) {
        // It stands in a block placed before: nothing done here moves it.
        this.#unbookFrom(order, 0, position)
        this.obstacle = lag >= 0 ? { kind: 'window', step, lag } : { kind: 'no-hours', step }
        return -2
      }
      this.#unbookFrom(order, back, position)
      this.#raisedStart[raised] = Math.max(this.#raisedStart[raised]!, this.#raiseStart)
      this.#raisedEnd[raised] = Math.max(this.#raisedEnd[raised]!, this.#raiseEnd)
      position = back
    }
    return -1
  }

  #unbookFrom(order: readonly number[], first: number, last: number): void {
    for (let position = last; position >= first; position--) {
      if (this.placed[order[position]!] === 1) this.#unbook(order[position]!)
    }
  }

  /** A window may be missed when the trade has a remedy, or when what led to it has already happened. */
  #mayMiss(lag: number): boolean {
    return this.compiled.lagRemedy[lag]! >= 0 || this.facts.led[this.compiled.lagTo[lag]!] === 1
  }

  #patience(lag: number, firstStart: number): number {
    const patience = lag >= 0 && this.#mayMiss(lag) ? SOFT_PATIENCE : HARD_PATIENCE
    let last = firstStart
    for (const { size, to } of this.#busy) if (size > 0) last = Math.max(last, to[size - 1]!)
    return last + patience
  }

  /** Whether the window cannot be met even with nobody else in the shop; found out once. */
  #isHopeless(lag: number): boolean {
    if (this.#isEmptyShop) return false
    if (this.#hopeless[lag] !== 0) return this.#hopeless[lag] === 2
    this.#emptyShop ??= new Schedule(this.compiled, this.blocks, true)
    const alone = this.#emptyShop
    const block = this.blocks.of[this.compiled.lagTo[lag]!]!
    alone.reset()
    const isPlaced = alone.#placeWithLeaders(block)
    this.#hopeless[lag] =
      (isPlaced && alone.missed[lag] === 1) ||
      (!isPlaced && alone.obstacle?.kind === 'window' && alone.obstacle.lag === lag)
        ? 2
        : 1
    return this.#hopeless[lag] === 2
  }

  #placeWithLeaders(block: number): boolean {
    if (this.isPlaced(block)) return true
    for (const before of this.blocks.before[block]!) if (!this.#placeWithLeaders(before)) return false
    return this.#placeAlone(block)
  }

  /** Places one step as early as may be; where that breaks a window or a hold, says who has to be raised. */
  #placeStep(step: number): Placing {
    const { lagsInto, lagsOutOf, holdsClosedBy, lagFrom, lagTo, lagMax, lagRemedy, holdStep } = this.compiled
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) this.missed[lagsInto.items[at]!] = 0
    let from = Math.max(this.compiled.earliest[step]!, this.#raisedStart[step]!)
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      const before = lagFrom[lag]!
      if (this.placed[before] === 0) continue
      const ready = this.readyAt(lag, this.end[before]!)
      if (ready >= NEVER) {
        this.obstacle = { kind: 'wait', step, lag }
        return 'blocked'
      }
      if (ready > from) from = ready
    }

    let remedy = 0
    for (;;) {
      if (!this.#findPlace(step, from, remedy)) return 'blocked'
      let needed = 0
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        if (lagMax[lag] === NEVER || this.placed[lagFrom[lag]!] === 0) continue
        const before = lagFrom[lag]!
        if (this.#foundStart <= closesAt(this.compiled, lag, this.end[before]!)) continue
        if (this.compiled.state[before] === TO_DO && this.#gaveUp[lag] === 0) {
          this.#markFound(step, remedy)
          return this.#raise(before, 0, leastEndToMeet(this.compiled, lag, this.#foundStart), lag)
        }
        this.missed[lag] = 1
        needed += Math.max(0, lagRemedy[lag]!)
      }
      if (needed <= remedy) break
      remedy = needed
      from = this.#foundStart
    }
    this.#markFound(step, remedy)

    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      const holder = holdStep[hold]!
      if (!this.#isBooked(holder)) continue
      const over = this.#overHeld(hold)
      if (over < 0) continue
      if (this.compiled.state[holder] !== TO_DO) {
        this.#unbook(step)
        this.obstacle = { kind: 'station', step, station: this.compiled.holdStation[hold]! }
        return 'blocked'
      }
      return this.#raise(holder, over, 0, -1)
    }
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      const to = lagTo[lag]!
      if (this.placed[to] === 0 || this.compiled.state[to] !== TO_DO) continue
      const ready = this.readyAt(lag, this.end[step]!)
      if (this.start[to]! < ready) return this.#raise(to, ready, 0, lag)
      if (this.start[to]! > closesAt(this.compiled, lag, this.end[step]!))
        return this.#raise(step, 0, leastEndToMeet(this.compiled, lag, this.start[to]!), lag)
    }
    return 'placed'
  }

  #raise(step: number, start: number, end: number, lag: number): Placing {
    this.#raiseStep = step
    this.#raiseStart = start
    this.#raiseEnd = end
    this.#raiseLag = lag
    return 'raise'
  }

  /** End of the first overload while the hold lasts; -1 when there is none. */
  #overHeld(hold: number): number {
    const { holdStation, holdStep, capacity, state } = this.compiled
    const station = holdStation[hold]!
    const holder = holdStep[hold]!
    const from = state[holder] === TO_DO ? this.start[holder]! : this.compiled.now
    const to = this.holdEnd(hold)
    const over = this.#held[station]!.firstOver(from, to, capacity[station]!)
    if (over < 0 || state[holder] === TO_DO) return over
    // What had started before may take more than there is; it is only wrong where something planned adds to it.
    return this.#addsToFacts(station, from, to) ? over : -1
  }

  #addsToFacts(station: number, from: number, to: number): boolean {
    const { capacity, holdStation, holdUnits, holdStep, state } = this.compiled
    const planned = new StepFunction()
    const all = this.#held[station]!
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

  // Finding a place for a step

  #findPlace(step: number, from: number, remedy: number): boolean {
    const { minutes, crewsOf } = this.compiled
    const work = minutes[step]! + remedy
    this.#openClosers(step, -1)
    let isFound = false
    let bestStart = 0
    let bestEnd = NEVER
    let bestSetUp = 0
    let bestCrew = -1
    if (work === 0) {
      isFound = this.#findInstant(step, Math.max(from, this.#raisedEnd[step]!))
      bestStart = bestEnd = this.#foundStart
    } else {
      for (const crew of crewsOf[step]!) {
        if (!this.#findForCrew(step, crew, from, work, bestEnd)) continue
        const isBetter =
          !isFound ||
          this.#foundEnd < bestEnd ||
          (this.#foundEnd === bestEnd &&
            (this.#foundStart > bestStart || (this.#foundStart === bestStart && this.#foundSetUp < bestSetUp)))
        if (!isBetter) continue
        isFound = true
        bestStart = this.#foundStart
        bestEnd = this.#foundEnd
        bestSetUp = this.#foundSetUp
        bestCrew = crew
      }
    }
    this.#openClosers(step, 1)
    this.#foundStart = bestStart
    this.#foundEnd = bestEnd
    this.#foundSetUp = bestSetUp
    this.#foundCrew = bestCrew
    return isFound
  }

  /** Takes out (-1) or puts back (1) what is held until this step, while a place for it is looked for. */
  #openClosers(step: number, sign: number): void {
    const { holdsClosedBy, holdStep, holdStation, holdUnits } = this.compiled
    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      const holder = holdStep[hold]!
      if (this.#isBooked(holder))
        this.#held[holdStation[hold]!]!.add(this.start[holder]!, NEVER, sign * holdUnits[hold]!)
    }
  }

  /** A milestone takes no time: it happens as soon as what it holds is free. */
  #findInstant(step: number, from: number): boolean {
    let at = from
    for (;;) {
      const next = this.#clash(step, at, at, -1, 0)
      if (next < 0) break
      if (next >= NEVER) return false
      at = next
    }
    this.#foundStart = at
    return true
  }

  /** @param latestEnd what ends later is of no use: another crew is quicker */
  #findForCrew(step: number, crew: number, from: number, work: number, latestEnd: number): boolean {
    const leastEnd = this.#raisedEnd[step]!
    const { sessions } = this.compiled.crews[crew]!
    let at = from
    for (;;) {
      if (!this.#findFree(step, crew, at, work, latestEnd)) {
        this.obstacle = { kind: 'no-hours', step }
        return false
      }
      const start = this.#foundStart
      const end = this.#foundEnd
      if (end < leastEnd) {
        const total = work + this.#foundSetUp
        const later =
          this.compiled.interruptible[step] === 1 ? startOfWorkBefore(sessions, leastEnd, total) : leastEnd - total
        at = Math.max(start + 1, later)
        continue
      }
      const next = this.#clash(step, start, end, crew, work + this.#foundSetUp)
      if (next < 0) return true
      if (next >= NEVER) return false
      at = next
    }
  }

  /** The first stretch of the crew's time, from `from` on, in which the work fits without changing anybody's set-up. */
  #findFree(step: number, crew: number, from: number, work: number, latestEnd: number): boolean {
    const { crews, interruptible, smallest, family, setUpMinutes } = this.compiled
    const { makers, sessions } = crews[crew]!
    const { count, from: opens, to: closes } = sessions
    const mayStop = interruptible[step] === 1
    const least = smallest[step]!
    // Dust on wet finish is the commonest clash: seen here, it costs no look at set-ups.
    const isDusty = this.compiled.dusty[step] === 1
    const dustIn = isDusty ? this.compiled.room[step]! : -1
    const wet = this.#wet[this.compiled.room[step]!]!
    // From here to `at` nothing fits, whatever the step is beyond its length and its dust.
    let fullFrom = from
    let at = this.#full.past(crew, dustIn, work, from)
    let session = sessionAt(sessions, at)
    for (;;) {
      if (session < count && at < opens[session]!) at = opens[session]!
      if (session >= count || at + work > latestEnd) {
        this.#full.note(crew, dustIn, work, fullFrom, at)
        return false
      }
      let taken = NEVER
      let takenBy: BusyTimes | null = null
      let takenNext = -1
      let busyUntil = -1
      for (let index = 0; index < makers.length; index++) {
        const busy = this.#busy[makers[index]!]!
        const next = busy.after(at)
        if (next >= busy.size) continue
        const begins = busy.from[next]!
        if (begins <= at) {
          busyUntil = busy.freeAfter(next, work)
          break
        }
        if (begins < taken) {
          taken = begins
          takenBy = busy
          takenNext = next
        }
      }
      if (busyUntil >= 0) {
        at = this.#full.past(crew, dustIn, work, busyUntil)
        if (at >= closes[session]!) session = sessionAt(sessions, at)
        continue
      }
      if (isDusty) {
        const dry = wet.firstOver(at, at + 1, 0)
        if (dry >= 0) {
          at = this.#full.past(crew, dustIn, work, dry)
          if (at >= closes[session]!) session = sessionAt(sessions, at)
          continue
        }
      }
      const setUp = family[step]! >= 0 && !this.#isSetUp(makers, family[step]!, at) ? setUpMinutes[step]! : 0
      const total = work + setUp
      const open = closes[session]! - at
      const fits = mayStop ? open >= total || open >= least : open >= total
      if (!fits) {
        this.#full.note(crew, dustIn, work, fullFrom, at)
        // Later in the session the setup may be there already.
        if (setUp > 0 && takenBy !== null && takenBy.to[takenNext]! < closes[session]! && (mayStop || open >= work))
          at = takenBy.to[takenNext]!
        else at = ++session < count ? opens[session]! : NEVER
        fullFrom = at
        continue
      }
      const end = mayStop ? endOfWork(sessions, session, at, total, least) : at + total
      if (end === NEVER) return false
      const after =
        end > taken && takenBy !== null
          ? takenBy.freeAfter(takenNext, work)
          : family[step]! >= 0
            ? this.#disturbedUntil(makers, family[step]!, end)
            : -1
      this.#full.note(crew, dustIn, work, fullFrom, at)
      if (after < 0) {
        this.#foundStart = at
        this.#foundEnd = end
        this.#foundSetUp = setUp
        return true
      }
      at = fullFrom = after
      if (at >= closes[session]!) session = sessionAt(sessions, at)
    }
  }

  /** Whether one of the makers has just worked with this set-up, in the session that runs at `at`. */
  #isSetUp(makers: readonly number[], family: number, at: number): boolean {
    const { makerSessions, family: families } = this.compiled
    for (const maker of makers) {
      const sessions = makerSessions[maker]!
      const opened = sessions.from[sessionAt(sessions, at)]!
      const busy = this.#busy[maker]!
      let before = busy.after(at) - 1
      while (before >= 0 && busy.to[before]! > opened && families[busy.step[before]!]! < 0) before -= 1
      const last = before >= 0 && busy.to[before]! > opened ? families[busy.step[before]!]! : -1
      if (last === family) return true
      const { lastFamily, lastFamilyEnd } = this.facts
      if (last < 0 && lastFamily[maker] === family && lastFamilyEnd[maker]! > opened && lastFamilyEnd[maker]! <= at)
        return true
    }
    return false
  }

  /**
   * Work of a family that ends at `end` comes right before another step of a family: when that would change whether the
   * other one needs its setup, the end of the other one; otherwise -1.
   */
  #disturbedUntil(makers: readonly number[], family: number, end: number): number {
    for (const maker of makers) {
      const next = this.#nextOfFamily(maker, end)
      if (next < 0) continue
      const isPaid = this.setUp[next]! > 0
      const needsNone = this.compiled.setUpMinutes[next] === 0
      if (needsNone) continue
      if ((this.compiled.family[next] === family) === isPaid) return this.end[next]!
    }
    return -1
  }

  /** The maker's next step of a set-up family, if it begins in the session in which `end` lies; -1 otherwise. */
  #nextOfFamily(maker: number, end: number): number {
    const { makerSessions, family } = this.compiled
    const busy = this.#busy[maker]!
    const sessions = makerSessions[maker]!
    const closes = sessions.to[sessionAt(sessions, end - 1)]!
    for (let next = busy.after(end); next < busy.size && busy.from[next]! < closes; next++) {
      if (family[busy.step[next]!]! >= 0) return busy.step[next]!
    }
    return -1
  }

  /** When stations and air allow the step at this time, -1; otherwise the next time at which they may (NEVER: not as things stand). */
  #clash(step: number, start: number, end: number, crew: number, total: number, ignoresInstants = false): number {
    const { holdsOf, holdStation, holdUnits, capacity, tackyMin, dusty, room, interruptible } = this.compiled
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      const station = holdStation[hold]!
      let units = holdUnits[hold]!
      if (units === 0) continue
      for (let other = holdsOf.from[step]!; other < at; other++) {
        if (holdStation[holdsOf.items[other]!] === station) units += holdUnits[holdsOf.items[other]!]!
      }
      const until = this.#holdEndIf(hold, start, end)
      if (ignoresInstants && until <= start) continue
      let over = this.#held[station]!.firstOver(start, until, capacity[station]! - units)
      if (over < 0) {
        const also = this.#heldUntilEndOf(step, station)
        if (also > 0)
          over = this.#held[station]!.firstOver(start, Math.min(end, until), capacity[station]! - units - also)
      }
      if (over < 0) continue
      if (over >= NEVER) this.obstacle = { kind: 'station', step, station }
      return over
    }
    if (tackyMin[step]! > 0) {
      const over = this.#dust[room[step]!]!.firstOver(start, this.tackyUntil(step, end), 0)
      if (over >= 0) return over
    }
    if (dusty[step] === 1 && total > 0) {
      const wet = this.#wet[room[step]!]!
      if (interruptible[step] === 0) return wet.firstOver(start, end, 0)
      const written = stretchesOfWork(
        this.compiled.crews[crew]!.sessions,
        start,
        total,
        this.compiled.smallest[step]!,
        this.#bounds,
      )
      for (let index = 0; index < written; index += 2) {
        const over = wet.firstOver(this.#bounds[index]!, this.#bounds[index + 1]!, 0)
        if (over >= 0) return Math.min(over, this.#bounds[index + 1]!)
      }
    }
    return -1
  }

  /** End of a hold if its step were at this place; its own end where what closes it is not placed yet. */
  #holdEndIf(hold: number, start: number, end: number): number {
    const { holdUntil, holdMin, holdClock, holdTarget } = this.compiled
    switch (holdUntil[hold]) {
      case UNTIL_END:
        return end
      case UNTIL_AFTER:
        return this.#after(end, holdMin[hold]!, holdClock[hold]!)
      default: {
        const target = holdTarget[hold]!
        if (this.placed[target] === 0) return Math.max(end, start + 1)
        return holdUntil[hold] === UNTIL_START_OF ? this.start[target]! : this.end[target]!
      }
    }
  }

  /** Whether what the step holds is in the books: it is placed, and not left out with the rest of the shop. */
  #isBooked(step: number): boolean {
    return this.placed[step] === 1 && !(this.#isEmptyShop && this.compiled.state[step] !== TO_DO)
  }

  /** Units of a station held by others until the end of this step. */
  #heldUntilEndOf(step: number, station: number): number {
    const { holdsClosedBy, holdUntil, holdStation, holdStep, holdUnits } = this.compiled
    let units = 0
    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      if (holdUntil[hold] === UNTIL_END_OF && holdStation[hold] === station && this.#isBooked(holdStep[hold]!))
        units += holdUnits[hold]!
    }
    return units
  }

  // Booking

  #markFound(step: number, remedy: number): void {
    this.start[step] = this.#foundStart
    this.end[step] = this.#foundEnd
    this.setUp[step] = this.#foundSetUp
    this.crew[step] = this.#foundCrew
    this.remedy[step] = remedy
    this.#book(step)
  }

  #book(step: number): void {
    const crew = this.crew[step]!
    if (crew >= 0) {
      for (const maker of this.compiled.crews[crew]!.makers)
        this.#busy[maker]!.add(this.start[step]!, this.end[step]!, step)
    }
    this.#switchClosed(step, -1)
    this.placed[step] = 1
    this.#switchClosed(step, 1)
    this.#switchOwn(step, 1)
  }

  #unbook(step: number): void {
    this.#full.forgetUnsettled()
    const crew = this.crew[step]!
    if (crew >= 0) for (const maker of this.compiled.crews[crew]!.makers) this.#busy[maker]!.remove(this.start[step]!)
    this.#switchOwn(step, -1)
    this.#switchClosed(step, -1)
    this.placed[step] = 0
    this.#switchClosed(step, 1)
    const { lagsInto } = this.compiled
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) this.missed[lagsInto.items[at]!] = 0
  }

  /** Adds (1) or takes back (-1) what placed steps hold until this one, as long as it lasts at the moment. */
  #switchClosed(step: number, sign: number): void {
    const { holdsClosedBy, holdStep, holdStation, holdUnits } = this.compiled
    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      const holder = holdStep[hold]!
      if (!this.#isBooked(holder)) continue
      this.#held[holdStation[hold]!]!.add(this.start[holder]!, this.holdEnd(hold), sign * holdUnits[hold]!)
    }
  }

  /** Adds (1) or takes back (-1) what the step itself holds, wets and dusts. */
  #switchOwn(step: number, sign: number): void {
    const { holdsOf, holdStation, holdUnits, tackyMin, dusty, room, crews, smallest, minutes } = this.compiled
    for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
      const hold = holdsOf.items[at]!
      this.#held[holdStation[hold]!]!.add(this.start[step]!, this.holdEnd(hold), sign * holdUnits[hold]!)
    }
    if (tackyMin[step]! > 0) {
      this.#wet[room[step]!]!.add(this.start[step]!, this.tackyUntil(step, this.end[step]!), sign)
    }
    if (dusty[step] === 1 && this.crew[step]! >= 0) {
      const total = minutes[step]! + this.setUp[step]! + this.remedy[step]!
      const { sessions } = crews[this.crew[step]!]!
      const written = stretchesOfWork(sessions, this.start[step]!, total, smallest[step]!, this.#bounds)
      for (let index = 0; index < written; index += 2) {
        this.#dust[room[step]!]!.add(this.#bounds[index]!, this.#bounds[index + 1]!, sign)
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
    if (this.#isEmptyShop) return
    for (let step = 0; step < stepCount; step++) {
      if (state[step] === TO_DO) continue
      this.#switchOwn(step, 1)
      const work = state[step] === RUNNING ? this.facts.running.get(step) : undefined
      if (work === undefined) continue
      for (const stretch of work.stretches)
        if (dusty[step] === 1) this.#dust[room[step]!]!.add(stretch.from, stretch.to, 1)
      const first = work.stretches[0]
      if (first === undefined) continue
      for (const maker of work.makers) this.#busy[maker]!.add(first.from, this.end[step]!, step)
    }
  }

  #closersOfFacts(): number[][] {
    const { state, holdStep, holdTarget, holdStation, capacity } = this.compiled
    const closers: Set<number>[] = Array.from(capacity, () => new Set())
    for (let hold = 0; hold < holdStep.length; hold++) {
      const target = holdTarget[hold]!
      if (target < 0 || state[holdStep[hold]!] === TO_DO || state[target] !== TO_DO) continue
      closers[holdStation[hold]!]!.add(this.blocks.of[target]!)
    }
    return closers.map((blocks) => [...blocks])
  }
}

function copies<T extends { copyFrom(other: T): void }>(originals: readonly T[], make: (index: number) => T): T[] {
  return originals.map((original, index) => {
    const copy = make(index)
    copy.copyFrom(original)
    return copy
  })
}
