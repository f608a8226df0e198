import type { OneMachineJobs } from './weighted-tardiness.ts'

/**
 * A good first order: whenever the machine is free, the job with the greatest apparent tardiness cost goes next, that is
 * weight / duration, damped by exp(-slack / (lookAhead x mean duration)).
 * @param lookAhead > 0; small when few jobs will be late, about 2 on average
 * @source A. P. J. Vepsalainen, T. E. Morton, Management Science 33 (1987) 1035-1047
 */
export function apparentTardinessCostOrder(jobs: OneMachineJobs, lookAhead: number): Int32Array {
  const count = jobs.durations.length
  const order = Int32Array.from({ length: count }, (_, job) => job)
  const meanDuration = jobs.durations.reduce((sum, duration) => sum + duration, 0) / Math.max(1, count)
  const damping = Math.max(lookAhead * meanDuration, Number.MIN_VALUE)
  let clock = 0
  for (let position = 0; position < count; position++) {
    let chosen = position
    let highest = -1
    for (let candidate = position; candidate < count; candidate++) {
      const job = order[candidate]!
      const duration = jobs.durations[job]!
      const slack = Math.max(0, jobs.dues[job]! - duration - clock)
      const cost = (jobs.weights[job]! / Math.max(duration, 0.5)) * Math.exp(-slack / damping)
      if (cost > highest) {
        highest = cost
        chosen = candidate
      }
    }
    const job = order[chosen]!
    order[chosen] = order[position]!
    order[position] = job
    clock += jobs.durations[job]!
  }
  return order
}
