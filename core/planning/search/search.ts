import { randomStream, type RandomStream } from '../../chance/seeded-random.ts'
import { TO_DO } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import type { Objective } from '../problem/model.ts'
import {
  compareObjectives,
  doneTimes,
  measured,
  OBJECTIVE_ORDER,
  tardinessOf,
  type Timetable,
} from '../rules/measured.ts'
import type { Schedule } from '../schedule/schedule.ts'
import { MoveChoice } from './move-choice.ts'
import { Moves } from './moves.ts'
import { Replacement, Snapshot } from './neighbourhood.ts'

/** How much worse than the present a schedule may be and still be gone on with, relative, at first. */
const WARMTH = 0.02
/** A search of fewer schedules has no time to come back from what is worse, and takes less of it. */
const LONG = 1000
/** With more late orders than that each is a smaller part of the whole, and so is what may be lost. */
const FEW_LATE = 5
/** What a move has brought: a new best, or only better than the present. */
const GAIN_OF_BEST = 1
const GAIN_OF_BETTER = 0.2

/**
 * Large-neighbourhood search over a complete schedule: a part of it is taken out and placed again in another order, with
 * the rest left in its place. Which part follows what has paid so far. What is slightly worse is gone on with at times
 * (simulated annealing), the best is kept.
 */
export class Search {
  readonly schedule: Schedule
  readonly #random: RandomStream
  readonly #replacement: Replacement
  readonly #moves: Moves
  readonly #choice: MoveChoice
  readonly #mostSchedules: number
  readonly #openSteps: number
  #current: Objective
  /** Commissions that are late at present. */
  #late: number
  #best: Objective
  #bestSnapshot: Snapshot
  /** Schedules generated so far; a part of the steps placed again counts as that part. */
  schedules = 0

  // What the commissions add to the objective while blocks are put back.
  readonly #done: Int32Array
  #tardiness = 0
  #completion = 0
  #mostTardiness = 0
  #mostCompletion = 0

  /** @param mostSchedules the search cools down towards this many */
  constructor(schedule: Schedule, seed: number, mostSchedules: number) {
    this.schedule = schedule
    this.#random = randomStream(seed)
    this.#replacement = new Replacement(schedule)
    this.#moves = new Moves(schedule, this.#random)
    this.#choice = new MoveChoice(this.#moves.kinds, this.#random)
    this.#mostSchedules = mostSchedules
    this.#current = this.#best = measured(schedule)
    this.#late = lateIn(schedule)
    this.#bestSnapshot = new Snapshot(schedule)
    this.#openSteps = Math.max(1, schedule.compiled.state.filter((state) => state === TO_DO).length)
    this.#done = new Int32Array(schedule.compiled.commissionCount)
  }

  get best(): Objective {
    return this.#best
  }

  get bestTimes(): Timetable {
    return this.#bestSnapshot
  }

  /** One move; true when a new best was found. */
  move(): boolean {
    if (this.#moves.isEmpty) {
      this.schedules += 1
      return false
    }
    const kind = this.#choice.next()
    const { out, order, schedules, takeBack } = this.#moves.make(kind)
    this.#replacement.takeOut(out)
    const mostWorse = this.#mostWorse()
    this.#setLimits(mostWorse)
    const before = this.#current
    const judgement = this.#replacement.putBack(order(this.#replacement.blocks), (block) => this.#isTooLate(block))
      ? this.#judge(mostWorse)
      : 'dropped'
    if (judgement === 'dropped') takeBack?.()
    const isBest = judgement === 'best'
    const spent = schedules + this.#replacement.stepsPutBack / this.#openSteps
    this.schedules += spent
    const gain = isBest ? GAIN_OF_BEST : compareObjectives(this.#current, before) < 0 ? GAIN_OF_BETTER : 0
    this.#choice.learn(kind, gain, spent)
    return isBest
  }

  /** How much worse, relative, this move may make the schedule: exponentially distributed, ever less. */
  #mostWorse(): number {
    const left = Math.max(0, 1 - this.schedules / this.#mostSchedules)
    const warmth = WARMTH * Math.min(1, this.#mostSchedules / LONG) * Math.min(1, FEW_LATE / this.#late)
    return Math.min(1, -warmth * left * Math.log(1 - this.#random.fraction()))
  }

  /** The objective of what is still placed, and what it may become before the move is not worth going on with. */
  #setLimits(mostWorse: number): void {
    const { compiled, placed, end } = this.schedule
    const { stepCount, commission, commissionCount, promise, now } = compiled
    this.#done.fill(-1)
    for (let step = 0; step < stepCount; step++) {
      if (placed[step] === 1 && end[step]! > this.#done[commission[step]!]!) this.#done[commission[step]!] = end[step]!
    }
    this.#tardiness = this.#completion = 0
    for (let each = 0; each < commissionCount; each++) {
      if (this.#done[each]! < 0) this.#done[each] = now
      if (promise[each] === NEVER) this.#completion += compiled.weight[each]! * (this.#done[each]! - now)
      else this.#tardiness += tardinessOf(compiled, each, this.#done[each]!)
    }
    const { missedWindows, weightedTardiness, weightedCompletion } = this.#current
    // With a window missed, what is later may still be better.
    this.#mostTardiness = missedWindows > 0 ? Infinity : limit(weightedTardiness, mostWorse)
    this.#mostCompletion = missedWindows > 0 ? Infinity : limit(weightedCompletion, mostWorse)
  }

  #isTooLate(block: number): boolean {
    const { compiled, blocks, end } = this.schedule
    const { commission, promise, weight } = compiled
    for (const step of blocks.steps[block]!) {
      const of = commission[step]!
      const before = this.#done[of]!
      if (end[step]! <= before) continue
      this.#done[of] = end[step]!
      if (promise[of] === NEVER) this.#completion += weight[of]! * (end[step]! - before)
      else this.#tardiness += tardinessOf(compiled, of, end[step]!) - tardinessOf(compiled, of, before)
    }
    return (
      this.#tardiness > this.#mostTardiness ||
      (this.#completion > this.#mostCompletion && this.#tardiness >= this.#current.weightedTardiness)
    )
  }

  #judge(mostWorse: number): 'dropped' | 'gone on with' | 'best' {
    const objective = measured(this.schedule)
    if (relativeLoss(objective, this.#current) > mostWorse) {
      this.#replacement.undo()
      return 'dropped'
    }
    this.#current = objective
    this.#late = lateIn(this.schedule)
    if (compareObjectives(objective, this.#best) >= 0) return 'gone on with'
    this.#best = objective
    this.#bestSnapshot = new Snapshot(this.schedule)
    return 'best'
  }
}

const lateIn = (times: Timetable): number =>
  doneTimes(times).reduce((count, done, commission) => count + (done > times.compiled.promise[commission]! ? 1 : 0), 0)

const limit = (value: number, mostWorse: number): number => value + (mostWorse + 1e-9) * Math.max(1, Math.abs(value))

/** How much worse `a` is than `b`, relative, in the first objective in which they differ; windows count for whole ones. */
function relativeLoss(a: Objective, b: Objective): number {
  for (const key of OBJECTIVE_ORDER) {
    const difference = a[key] - b[key]
    if (Math.abs(difference) <= 1e-9 * Math.max(1, Math.abs(b[key]))) continue
    return key === 'missedWindows' ? difference : difference / Math.max(1, Math.abs(b[key]))
  }
  return 0
}
