import { placingOrder } from './blocks.ts'
import { TO_DO } from '../problem/compiled.ts'
import { DAY_MIN } from '../../time/day.ts'
import { NEVER } from '../problem/instants.ts'
import { readyAfterLag } from '../rules/waits.ts'
import { closesAt, leastEndToMeet, mayMiss } from '../rules/windows.ts'
import { findPlace } from './find-place.ts'
import { Ledger } from './ledger.ts'

/** How long a window with a remedy is waited for before the remedy is taken: four weeks hold every weekly pattern. */
const SOFT_PATIENCE = 28 * DAY_MIN
/** The same for a window without a remedy: a year holds every season. */
const HARD_PATIENCE = 400 * DAY_MIN
const MOST_RAISES = 20_000
/** After so many raises it is worth finding out whether a window can be met at all. */
const RAISES_BEFORE_DOUBT = 8
const MOST_ORDERS = 6

type Placing = 'placed' | 'blocked' | 'raise'

/**
 * Places the steps of one block, each at the earliest time at which it disturbs nothing that stands already. Where a window or a
 * hold cannot be kept that way, the step that opened it is raised to the least start that lets it be kept, and the block is placed
 * again from there.
 */
export class BlockPlacer {
  readonly #ledger: Ledger
  readonly #raisedStart: Int32Array
  readonly #raisedEnd: Int32Array
  readonly #gaveUp: Uint8Array
  /** Lags whose window cannot be met even in an empty shop: 0 unknown, 1 can be met, 2 cannot. */
  readonly #hopeless: Uint8Array
  #emptyShop: BlockPlacer | null = null

  // The raise asked for last: fields instead of an object, since they are set millions of times.
  #raiseStep = -1
  #raiseStart = 0
  #raiseEnd = 0
  #raiseLag = -1

  constructor(ledger: Ledger) {
    const { stepCount, lagCount } = ledger.compiled
    this.#ledger = ledger
    this.#raisedStart = new Int32Array(stepCount)
    this.#raisedEnd = new Int32Array(stepCount)
    this.#gaveUp = new Uint8Array(lagCount)
    this.#hopeless = new Uint8Array(lagCount)
  }

  /** Places a block alone: what leads to it stands already. False: nothing of it is placed, see `obstacle`. */
  place(block: number): boolean {
    const isPlaced = this.#placeInSomeOrder(block)
    this.#ledger.full.settle()
    return isPlaced
  }

  #placeInSomeOrder(block: number): boolean {
    const ledger = this.#ledger
    const steps = ledger.blocks.steps[block]!
    if (this.#placeInOrder(steps)) return true
    if (steps.length < 3 || ledger.isEmptyShop) return false
    const first = ledger.obstacle
    let seed = block + 1
    const chance = (): number => {
      seed = (Math.imul(seed, 1_103_515_245) + 12_345) & 0x7fffffff
      return seed / 0x80000000
    }
    for (let attempt = 1; attempt < MOST_ORDERS; attempt++) {
      if (this.#placeInOrder(placingOrder(ledger.compiled, steps, chance))) return true
    }
    ledger.obstacle = first
    return false
  }

  #placeInOrder(order: readonly number[]): boolean {
    const ledger = this.#ledger
    const gaveUp = this.#gaveUp
    const { lagsInto } = ledger.compiled
    for (const step of order) {
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) gaveUp[lagsInto.items[at]!] = 0
    }
    for (;;) {
      const lag = this.#tryInOrder(order)
      if (lag === -1) return true
      if (lag === -2) return false
      if (gaveUp[lag] === 1) {
        // Given up already, and still in the way: what it leads to stands before what it comes from in this order.
        ledger.obstacle = { kind: 'window', step: ledger.compiled.lagTo[lag]!, lag }
        return false
      }
      gaveUp[lag] = 1
    }
  }

  /** -1: placed; -2: cannot be placed; otherwise a lag whose window has to be given up. */
  #tryInOrder(order: readonly number[]): number {
    const ledger = this.#ledger
    for (const step of order) this.#raisedStart[step] = this.#raisedEnd[step] = 0
    let raises = 0
    let firstStart = -1
    let lastLag = -1
    let position = 0
    while (position < order.length) {
      const step = order[position]!
      const placing = this.#placeStep(step)
      if (placing === 'placed') {
        if (firstStart < 0) firstStart = ledger.start[step]!
        position += 1
        continue
      }
      if (placing === 'blocked') {
        ledger.unbookFrom(order, 0, position - 1)
        if (lastLag < 0) return -2
        if (mayMiss(ledger, lastLag)) return lastLag
        ledger.obstacle = { kind: 'window', step: ledger.compiled.lagTo[lastLag]!, lag: lastLag }
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
        to > this.#patience(lag, firstStart < 0 ? ledger.compiled.now : firstStart)
      if (tooLate) {
        ledger.unbookFrom(order, 0, position)
        if (lag >= 0 && mayMiss(ledger, lag)) return lag
        if (lastLag >= 0 && mayMiss(ledger, lastLag)) return lastLag
        if (lag >= 0) ledger.obstacle = { kind: 'window', step, lag }
        else if (lastLag >= 0) ledger.obstacle = { kind: 'window', step: ledger.compiled.lagTo[lastLag]!, lag: lastLag }
        else ledger.obstacle = { kind: 'no-hours', step }
        return -2
      }
      let back = position
      while (back >= 0 && order[back] !== raised) back -= 1
      if (back < 0) {
        // It stands in a block placed before: nothing done here moves it.
        ledger.unbookFrom(order, 0, position)
        ledger.obstacle = lag >= 0 ? { kind: 'window', step, lag } : { kind: 'no-hours', step }
        return -2
      }
      ledger.unbookFrom(order, back, position)
      this.#raisedStart[raised] = Math.max(this.#raisedStart[raised]!, this.#raiseStart)
      this.#raisedEnd[raised] = Math.max(this.#raisedEnd[raised]!, this.#raiseEnd)
      position = back
    }
    return -1
  }

  #patience(lag: number, firstStart: number): number {
    const patience = lag >= 0 && mayMiss(this.#ledger, lag) ? SOFT_PATIENCE : HARD_PATIENCE
    let last = firstStart
    for (const { size, to } of this.#ledger.busy) if (size > 0) last = Math.max(last, to[size - 1]!)
    return last + patience
  }

  /** Whether the window cannot be met even with nobody else in the shop; found out once. */
  #isHopeless(lag: number): boolean {
    const ledger = this.#ledger
    if (ledger.isEmptyShop) return false
    if (this.#hopeless[lag] !== 0) return this.#hopeless[lag] === 2
    this.#emptyShop ??= new BlockPlacer(new Ledger(ledger.compiled, ledger.blocks, true))
    const alone = this.#emptyShop.#ledger
    alone.reset()
    const isPlaced = this.#emptyShop.#placeWithLeaders(ledger.blocks.of[ledger.compiled.lagTo[lag]!]!)
    this.#hopeless[lag] =
      (isPlaced && alone.missed[lag] === 1) ||
      (!isPlaced && alone.obstacle?.kind === 'window' && alone.obstacle.lag === lag)
        ? 2
        : 1
    return this.#hopeless[lag] === 2
  }

  #placeWithLeaders(block: number): boolean {
    if (this.#ledger.isPlaced(block)) return true
    for (const before of this.#ledger.blocks.before[block]!) if (!this.#placeWithLeaders(before)) return false
    return this.place(block)
  }

  /** Places one step as early as may be; where that breaks a window or a hold, says who has to be raised. */
  #placeStep(step: number): Placing {
    const ledger = this.#ledger
    const { lagsInto, lagsOutOf, holdsClosedBy, lagFrom, lagTo, lagMax, lagRemedy, holdStep } = ledger.compiled
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) ledger.missed[lagsInto.items[at]!] = 0
    let from = Math.max(ledger.compiled.earliest[step]!, this.#raisedStart[step]!)
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      const before = lagFrom[lag]!
      if (ledger.placed[before] === 0) continue
      const ready = readyAfterLag(ledger.compiled, lag, ledger.end[before]!)
      if (ready >= NEVER) {
        ledger.obstacle = { kind: 'wait', step, lag }
        return 'blocked'
      }
      if (ready > from) from = ready
    }

    let remedy = 0
    for (;;) {
      if (!findPlace(ledger, step, from, remedy, this.#raisedEnd[step]!)) return 'blocked'
      let needed = 0
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        if (lagMax[lag] === NEVER || ledger.placed[lagFrom[lag]!] === 0) continue
        const before = lagFrom[lag]!
        if (ledger.found.start <= closesAt(ledger.compiled, lag, ledger.end[before]!)) continue
        if (ledger.compiled.state[before] === TO_DO && this.#gaveUp[lag] === 0) {
          ledger.markFound(step, remedy)
          return this.#raise(before, 0, leastEndToMeet(ledger.compiled, lag, ledger.found.start), lag)
        }
        ledger.missed[lag] = 1
        needed += Math.max(0, lagRemedy[lag]!)
      }
      if (needed <= remedy) break
      remedy = needed
      from = ledger.found.start
    }
    ledger.markFound(step, remedy)

    for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
      const hold = holdsClosedBy.items[at]!
      const holder = holdStep[hold]!
      if (!ledger.isBooked(holder)) continue
      const over = ledger.overHeld(hold)
      if (over < 0) continue
      if (ledger.compiled.state[holder] !== TO_DO) {
        ledger.unbook(step)
        ledger.obstacle = { kind: 'station', step, station: ledger.compiled.holdStation[hold]! }
        return 'blocked'
      }
      return this.#raise(holder, over, 0, -1)
    }
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      const to = lagTo[lag]!
      if (ledger.placed[to] === 0 || ledger.compiled.state[to] !== TO_DO) continue
      const ready = readyAfterLag(ledger.compiled, lag, ledger.end[step]!)
      if (ledger.start[to]! < ready) return this.#raise(to, ready, 0, lag)
      if (ledger.start[to]! > closesAt(ledger.compiled, lag, ledger.end[step]!))
        return this.#raise(step, 0, leastEndToMeet(ledger.compiled, lag, ledger.start[to]!), lag)
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
}
