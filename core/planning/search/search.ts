import { TO_DO } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import { compareObjectives, doneTimes, measured, OBJECTIVE_ORDER, type Timetable } from '../rules/measured.ts'
import type { Objective } from '../problem/model.ts'
import { Replacement, Snapshot } from './neighbourhood.ts'
import { randomStream, type RandomStream } from '../../chance/seeded-random.ts'
import type { Schedule } from '../schedule/schedule.ts'

/** How much worse than the present a schedule may be and still be gone on with, relative, at first. */
const WARMTH = 0.002
/** Share of moves that place everything behind a point in time again; the others place a few commissions again. */
const NUDGES = 0.03
/** Commissions that are taken out in one move. */
const MOST_OUT = 4
const DAY = 1440

/**
 * Large-neighbourhood search over a complete schedule: a few commissions that compete for the same weeks are taken out and
 * placed again in another order, with the rest left in its place; now and then one commission is brought forward by some
 * days and everything behind is placed again. What is slightly worse is gone on with at times (simulated annealing), the
 * best is kept.
 */
export class Search {
  readonly schedule: Schedule
  readonly #random: RandomStream
  readonly #replacement: Replacement
  readonly #mostSchedules: number
  #current: Objective
  #best: Objective
  #bestSnapshot: Snapshot
  /** Schedules generated so far; a part of the steps placed again counts as that part. */
  schedules = 0
  readonly #open: readonly number[]
  readonly #openSteps: number
  readonly #blocksOf: readonly (readonly number[])[]

  /** @param mostSchedules the search cools down towards this many */
  constructor(schedule: Schedule, seed: number, mostSchedules: number) {
    const { compiled, blocks } = schedule
    this.schedule = schedule
    this.#random = randomStream(seed)
    this.#replacement = new Replacement(schedule)
    this.#mostSchedules = mostSchedules
    this.#current = this.#best = measured(schedule)
    this.#bestSnapshot = new Snapshot(schedule)
    const ofCommission = Array.from({ length: compiled.commissionCount }, () => new Set<number>())
    let openSteps = 0
    for (let step = 0; step < compiled.stepCount; step++) {
      if (compiled.state[step] !== TO_DO) continue
      openSteps += 1
      ofCommission[compiled.commission[step]!]!.add(blocks.of[step]!)
    }
    this.#openSteps = Math.max(1, openSteps)
    this.#blocksOf = ofCommission.map((set) => [...set].sort((a, b) => a - b))
    this.#open = [...this.#blocksOf.keys()].filter((commission) => this.#blocksOf[commission]!.length > 0)
  }

  get best(): Objective {
    return this.#best
  }

  get bestTimes(): Timetable {
    return this.#bestSnapshot
  }

  /** One move; true when a new best was found. */
  move(): boolean {
    if (this.#open.length === 0) {
      this.schedules += 1
      return false
    }
    return this.#random.fraction() < NUDGES ? this.#nudge() : this.#replace()
  }

  /** Brings a commission forward by some days, or pushes one back, and places everything again from there on in the new order. */
  #nudge(): boolean {
    const { blocks, start } = this.schedule
    const at = Float64Array.from(blocks.steps, (steps) => Math.min(...steps.map((step) => start[step]!)))
    const target = this.#target()
    const days = DAY * (0.5 + 14 * this.#random.fraction() ** 2)
    const moved = this.#blocksOf[target]!
    const from = Math.min(...moved.map((block) => at[block]!)) - days
    const first = this.#random.fraction() < 0.5 ? 0 : this.#random.below(moved.length)
    for (const block of moved.slice(first)) at[block]! -= days
    if (this.#random.fraction() < 0.5) {
      const [other] = this.#neighbours(target, 1)
      if (other !== undefined) for (const block of this.#blocksOf[other]!) at[block]! += days
    }
    this.#replacement.takeOut([...at.keys()].filter((block) => at[block]! >= from))
    const order = [...this.#replacement.blocks].sort((a, b) => at[a]! - at[b]! || a - b)
    this.schedules += this.#replacement.steps.length / this.#openSteps
    if (!this.#replacement.putBack(order)) return false
    return this.#judge()
  }

  #replace(): boolean {
    const target = this.#target()
    const size = 1 + this.#random.below(MOST_OUT)
    const chosen = [target, ...this.#neighbours(target, size - 1)]
    if (this.#random.fraction() < 0.25) this.#shuffle(chosen)
    const asked = chosen.flatMap((commission) => this.#blocksOf[commission]!)
    this.#replacement.takeOut(asked)
    const askedSet = new Set(asked)
    const order = [...asked, ...this.#replacement.blocks.filter((block) => !askedSet.has(block))]
    this.schedules += this.#replacement.steps.length / this.#openSteps
    if (!this.#replacement.putBack(order)) return false
    return this.#judge()
  }

  #judge(): boolean {
    const objective = measured(this.schedule)
    const worse = relativeLoss(objective, this.#current)
    const left = Math.max(0, 1 - this.schedules / this.#mostSchedules)
    const isTaken = worse <= 0 || (worse < 1 && this.#random.fraction() < Math.exp(-worse / (WARMTH * left + 1e-12)))
    if (!isTaken) {
      this.#replacement.undo()
      return false
    }
    this.#current = objective
    if (compareObjectives(objective, this.#best) >= 0) return false
    this.#best = objective
    this.#bestSnapshot = new Snapshot(this.schedule)
    return true
  }

  /** A commission that is late, more often the later it is; or one without a promise; or any. */
  #target(): number {
    const { promise, weight } = this.schedule.compiled
    const done = doneTimes(this.schedule)
    const roll = this.#random.fraction()
    if (roll < 0.6) {
      let total = 0
      for (const each of this.#open)
        if (promise[each]! < NEVER) total += weight[each]! * Math.max(0, done[each]! - promise[each]!)
      let left = this.#random.fraction() * total
      if (total > 0) {
        for (const each of this.#open) {
          if (promise[each]! < NEVER) left -= weight[each]! * Math.max(0, done[each]! - promise[each]!)
          if (left <= 0) return each
        }
      }
      const unpromised = this.#open.filter((each) => promise[each] === NEVER)
      if (unpromised.length > 0) return unpromised[this.#random.below(unpromised.length)]!
    }
    return this.#open[this.#random.below(this.#open.length)]!
  }

  /** Commissions that are done shortly before the target, mostly. */
  #neighbours(target: number, count: number): number[] {
    const done = doneTimes(this.schedule)
    const byDone = this.#open.filter((each) => each !== target).sort((a, b) => done[a]! - done[b]!)
    let place = 0
    while (place < byDone.length && done[byDone[place]!]! < done[target]!) place += 1
    const chosen = new Set<number>()
    for (let tries = 0; tries < 4 * count && chosen.size < Math.min(count, byDone.length); tries++) {
      const reach = 2 + this.#random.below(2 + count * 4)
      const other = byDone[place - reach + this.#random.below(reach + 2)]
      if (other !== undefined) chosen.add(other)
    }
    return [...chosen]
  }

  #shuffle(items: number[]): void {
    for (let last = items.length - 1; last > 0; last--) {
      const other = this.#random.below(last + 1)
      const kept = items[last]!
      items[last] = items[other]!
      items[other] = kept
    }
  }
}

/** How much worse `a` is than `b`, relative, in the first objective in which they differ; windows count for whole ones. */
function relativeLoss(a: Objective, b: Objective): number {
  for (const key of OBJECTIVE_ORDER) {
    const difference = a[key] - b[key]
    if (Math.abs(difference) <= 1e-9 * Math.max(1, Math.abs(b[key]))) continue
    return key === 'missedWindows' ? difference : difference / Math.max(1, Math.abs(b[key]))
  }
  return 0
}
