import type { NewWork } from '../quote/answers.ts'
import type { PlanningProblem } from './model.ts'

/** The shop's problem with the new work in it, the new steps last. */
export const withNewWork = (problem: PlanningProblem, { commission, steps, lags }: NewWork): PlanningProblem => ({
  ...problem,
  commissions: [...problem.commissions, commission],
  steps: [...problem.steps, ...steps],
  lags: [...problem.lags, ...lags],
})
