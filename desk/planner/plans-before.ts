import { isDeepStrictEqual } from 'node:util'
import type { PlanningProblem } from '../../core/planning/index.ts'
import type { Planned } from './plan-book.ts'

const KEPT = 6

/** The last plans that were shown: where an act is taken back, what it changed has its dates back, and is not planned anew from what came after. */
export class PlansBefore {
  #plans: readonly Planned[] = []

  keep(planned: Planned): void {
    this.#plans = [planned, ...this.#plans].slice(0, KEPT)
  }

  /** The plan of this very problem; null: it was none of the last. */
  of(problem: PlanningProblem): Planned | null {
    return this.#plans.find((each) => isSame(each.problem, problem)) ?? null
  }

  /** The newest plan of the same steps, whatever was done at them or the clock says since: the best to start from. */
  ofSameSteps({ steps }: PlanningProblem): Planned | null {
    return (
      this.#plans.find(
        ({ problem }) =>
          problem.steps.length === steps.length && problem.steps.every(({ id }, index) => id === steps[index]?.id),
      ) ?? null
    )
  }
}

/** What was announced follows from the plan, not the other way round. */
const isSame = (one: PlanningProblem, other: PlanningProblem): boolean =>
  one.steps.length === other.steps.length && isDeepStrictEqual({ ...one, announced: [] }, { ...other, announced: [] })
