import { courseOf } from '../odds/course.ts'
import { Draws } from '../odds/draws.ts'
import type { Forecast } from '../odds/forecast.ts'
import { LivedPlan } from '../odds/lived.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { PATIENCE_MIN } from './aim.ts'
import { shareBy } from './guard.ts'

/** So much of all promises together may be lost where a plan is better by its days: less than replications can tell. */
const SLACK = 0.1
/**
 * An order that is late by so much beyond what is borne weighs as much as one promise more that is missed, twice as much as four: what is
 * late already has no chance to lose, and would be left behind for the sake of others'. Measured in years of the benchmark.
 */
const AS_MUCH_AS_ONE_MIN = 7 * 1440

/**
 * Looks after promises while a better plan of the same book is looked for: by its days alone a plan may spend what makes promises sure. As
 * many promises as in the plan before are expected to be kept, each counted up to the chance that it was given with (as if no order came
 * later): what it has above that may be used. What comes far too late counts against a plan with the square of the days.
 */
export class PlanGuard {
  readonly #problem: PlanningProblem
  readonly #planBefore: Plan
  readonly #draws: Draws
  readonly #promised: readonly { readonly position: number; readonly promise: number; readonly given: number }[]
  readonly #slack: number
  #before: number | null = null

  /** @param slack so much of all promises together may be lost */
  constructor(problem: PlanningProblem, before: Plan, forecast: Forecast, replications: number, slack = SLACK) {
    this.#slack = slack
    this.#problem = problem
    this.#planBefore = before
    this.#draws = new Draws(replications, 1, forecast)
    this.#promised = problem.commissions.flatMap(({ promise, chanceAlone }, position) =>
      promise === null ? [] : [{ position, promise, given: chanceAlone ?? 1 }],
    )
  }

  keeps(after: Plan): boolean {
    this.#before ??= this.#worthOf(this.#planBefore)
    return this.#worthOf(after) >= this.#before - this.#slack
  }

  #worthOf(plan: Plan): number {
    const positions = this.#promised.map(({ position }) => position)
    const runs = this.#draws.count
    const { done } = new LivedPlan(courseOf(this.#problem, plan), this.#draws, positions).through(runs)
    return this.#promised.reduce(
      (sum, { position, promise, given }) =>
        sum + Math.min(given, shareBy(done[position]!, promise, runs)) - farTooLate(done[position]!, promise),
      0,
    )
  }
}

/** What lateness beyond the patience of a customer weighs, in promises; the mean over the replications. */
function farTooLate(done: Int32Array, promise: number): number {
  const beyond = (at: number): number => Math.max(0, at - promise - PATIENCE_MIN)
  return done.reduce((sum, at) => sum + (beyond(at) / AS_MUCH_AS_ONE_MIN) ** 2, 0) / done.length
}
