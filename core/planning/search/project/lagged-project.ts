import { problem, type Problem } from '../../../problems.ts'

/**
 * A project with minimum and maximum time lags (RCPSP/max, generalised precedence): start(to) >= start(from) + lag, start
 * to start. A negative lag on an arc that runs backwards is a maximum lag. Whole numbers; durations, needs and capacities
 * are >= 0. The makespan is the last finish; nothing starts before 0.
 */
export interface LaggedProject {
  readonly durations: readonly number[]
  /** needs[activity][resource] */
  readonly needs: readonly (readonly number[])[]
  readonly capacities: readonly number[]
  readonly lags: readonly StartLag[]
}

export interface StartLag {
  readonly from: number
  readonly to: number
  readonly lag: number
}

/** What makes a project unreadable (not what makes it infeasible, which is for the search to find out); empty when all is well. */
export function laggedProjectProblems(project: LaggedProject): readonly Problem[] {
  const count = project.durations.length
  const found: Problem[] = []
  const known = (activity: number): boolean => Number.isInteger(activity) && activity >= 0 && activity < count
  project.durations.forEach((duration, activity) => {
    if (!Number.isInteger(duration) || duration < 0) {
      found.push(
        problem(
          'project-duration',
          `The duration of activity ${activity} must be a whole number, 0 or more.`,
          `durations.${activity}`,
        ),
      )
    }
    const needs = project.needs[activity]
    if (needs?.length !== project.capacities.length || !needs.every((need) => Number.isInteger(need) && need >= 0)) {
      found.push(
        problem(
          'project-need',
          `Activity ${activity} must need a whole number, 0 or more, of each resource.`,
          `needs.${activity}`,
        ),
      )
    }
  })
  project.lags.forEach((arc, index) => {
    if (!known(arc.from) || !known(arc.to) || !Number.isInteger(arc.lag)) {
      found.push(
        problem('project-lag', `Lag ${index} must join two activities that exist by a whole number.`, `lags.${index}`),
      )
    }
  })
  return found
}
