import { problem, type Problem } from '../../../problems.ts'

/**
 * One machine (or one maker), jobs that are all ready at once, each with a due date: in which order is the sum of
 * weight x minutes late least? Whole numbers >= 0; the machine never needs to stand idle.
 */
export interface OneMachineJobs {
  readonly durations: readonly number[]
  readonly weights: readonly number[]
  readonly dues: readonly number[]
}

/** Sum of weight x max(0, completion - due) when the jobs are done in this order without a pause, from 0 on. */
export function weightedTardiness(jobs: OneMachineJobs, order: ArrayLike<number>): number {
  let clock = 0
  let sum = 0
  for (let position = 0; position < order.length; position++) {
    const job = order[position]!
    clock += jobs.durations[job]!
    if (clock > jobs.dues[job]!) sum += jobs.weights[job]! * (clock - jobs.dues[job]!)
  }
  return sum
}

/** What makes a list of jobs unusable; empty when all is well. */
export function oneMachineProblems(jobs: OneMachineJobs): readonly Problem[] {
  const count = jobs.durations.length
  if (jobs.weights.length !== count || jobs.dues.length !== count) {
    return [problem('jobs-shape', 'Durations, weights and due dates must have one entry for each job.')]
  }
  return jobs.durations.flatMap((duration, job) =>
    [duration, jobs.weights[job], jobs.dues[job]].every((value) => Number.isInteger(value) && value! >= 0)
      ? []
      : [
          problem(
            'jobs-number',
            `Duration, weight and due date of job ${job} must be whole numbers, 0 or more.`,
            `durations.${job}`,
          ),
        ],
  )
}
