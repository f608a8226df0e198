import { PRIOR_MISHAPS, priorAttendance, priorTimes } from '../../../core/learning/index.ts'
import type { Forecast } from '../../../core/planning/odds/forecast.ts'
import type { PlanningProblem } from '../../../core/planning/problem/model.ts'

const never = { alpha: 0, beta: 1 }
const always = { alpha: 1, beta: 0 }

/** Everybody comes, everything takes as long as it says, and nothing goes wrong. */
export const certain: Forecast = {
  times: {
    makers: [],
    operations: [],
    unknownMaker: { mean: 0, sd: 0 },
    unknownOperation: { mean: 0, sd: 0, noiseScale: 0 },
    orderSd: 0,
    noiseFreedom: 4,
  },
  attendance: { makers: [], unknownMaker: always, lostWeek: never },
  mishaps: { glueUp: never, crack: never },
  ordersPerWeek: 0,
  lessSure: 0,
}

/** What is believed of a shop that has logged nothing yet. @param attendance of every maker */
export const believedOf = ({ makers }: PlanningProblem, attendance: number): Forecast => ({
  times: priorTimes(
    makers.map(({ id }) => id),
    [],
  ),
  attendance: priorAttendance(makers.map(({ id }) => ({ id, attendance }))),
  mishaps: PRIOR_MISHAPS,
  ordersPerWeek: 0,
  lessSure: 0,
})

/** The same with steps whose times are uncertain. */
export const uncertain = (problem: PlanningProblem): PlanningProblem => ({
  ...problem,
  steps: problem.steps.map((step) => ({
    ...step,
    timing: { operation: step.name, standardMin: step.minutes, workedMin: 0 },
  })),
})
