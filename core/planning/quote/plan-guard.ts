import { courseOf } from '../odds/course.ts'
import { Draws } from '../odds/draws.ts'
import type { Forecast } from '../odds/forecast.ts'
import { LivedPlan } from '../odds/lived.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { shareBy } from './guard.ts'

/** So much of a promise may be lost where a plan is better by its days: less than replications can tell. */
const SLACK = 0.1

/**
 * Looks after promises while a better plan of the same book is looked for: by its days alone a plan may spend what makes promises sure. As
 * many promises as in the plan before are expected to be kept, each counted up to the chance that it was given with (as if no order came
 * later): what it has above that may be used.
 */
export class PlanGuard {
  readonly #problem: PlanningProblem
  readonly #planBefore: Plan
  readonly #draws: Draws
  readonly #promised: readonly { readonly position: number; readonly promise: number; readonly given: number }[]
  #before: number | null = null

  constructor(problem: PlanningProblem, before: Plan, forecast: Forecast, replications: number) {
    this.#problem = problem
    this.#planBefore = before
    this.#draws = new Draws(replications, 1, forecast)
    this.#promised = problem.commissions.flatMap(({ promise, chanceAlone }, position) =>
      promise === null ? [] : [{ position, promise, given: chanceAlone ?? 1 }],
    )
  }

  keeps(after: Plan): boolean {
    this.#before ??= this.#expectedIn(this.#planBefore)
    return this.#expectedIn(after) >= this.#before - SLACK
  }

  #expectedIn(plan: Plan): number {
    const positions = this.#promised.map(({ position }) => position)
    const runs = this.#draws.count
    const { done } = new LivedPlan(courseOf(this.#problem, plan), this.#draws, positions).through(runs)
    return this.#promised.reduce(
      (sum, { position, promise, given }) => sum + Math.min(given, shareBy(done[position]!, promise, runs)),
      0,
    )
  }
}
