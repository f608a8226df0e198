import { courseOf } from '../odds/course.ts'
import { Draws } from '../odds/draws.ts'
import type { Forecast } from '../odds/forecast.ts'
import { LivedPlan } from '../odds/lived.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { leastChance, shareBy } from './guard.ts'

/**
 * Looks after promises while a better plan of the same book is looked for: what is better in the sum may take from one promise what it
 * gives to another. Each promise keeps at least the chance that it was given with (as if no order came later), or the one that it has in the
 * plan before where that is less.
 */
export class PlanGuard {
  readonly #problem: PlanningProblem
  readonly #before: Plan
  readonly #draws: Draws
  readonly #promised: readonly { readonly position: number; readonly promise: number; readonly given: number }[]
  #chancesBefore: readonly number[] | null = null

  constructor(problem: PlanningProblem, before: Plan, forecast: Forecast, replications: number) {
    this.#problem = problem
    this.#before = before
    this.#draws = new Draws(replications, 1, forecast)
    this.#promised = problem.commissions.flatMap(({ promise, chanceAlone }, position) =>
      promise === null ? [] : [{ position, promise, given: chanceAlone ?? 1 }],
    )
  }

  keeps(after: Plan): boolean {
    this.#chancesBefore ??= this.#chancesIn(this.#before)
    const before = this.#chancesBefore
    const runs = this.#draws.count
    return this.#chancesIn(after).every(
      (chance, at) => chance >= leastChance(this.#promised[at]!.given, before[at]!, runs) - 1e-9,
    )
  }

  #chancesIn(plan: Plan): readonly number[] {
    const positions = this.#promised.map(({ position }) => position)
    const runs = this.#draws.count
    const { done } = new LivedPlan(courseOf(this.#problem, plan), this.#draws, positions).through(runs)
    return this.#promised.map(({ position, promise }) => shareBy(done[position]!, promise, runs))
  }
}
