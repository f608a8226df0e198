import { problem, type Problem } from '../../../problems.ts'

/**
 * A job shop: every job is a chain of operations, each on one machine for a whole number of time units >= 0; a machine
 * does one operation at a time. As a project: chains of precedence, and resources of capacity 1.
 */
export interface JobShop {
  readonly machines: number
  readonly jobs: readonly (readonly ShopOperation[])[]
}

export interface ShopOperation {
  readonly machine: number
  readonly duration: number
}

/** What makes a job shop unusable; empty when all is well. */
export function jobShopProblems(shop: JobShop): readonly Problem[] {
  return shop.jobs.flatMap((job, index) =>
    job.flatMap(({ machine, duration }, place) => {
      const field = `jobs.${index}.${place}`
      if (!Number.isInteger(machine) || machine < 0 || machine >= shop.machines) {
        return [
          problem(
            'job-machine',
            `Operation ${place} of job ${index} names machine ${machine}; there are machines 0 to ${shop.machines - 1}.`,
            field,
          ),
        ]
      }
      if (!Number.isInteger(duration) || duration < 0) {
        return [
          problem(
            'job-duration',
            `Operation ${place} of job ${index} must last a whole number of time units, 0 or more.`,
            field,
          ),
        ]
      }
      return []
    }),
  )
}

/** No schedule is shorter: the longest job, and for every machine its load between the shortest way in and out. */
export function jobShopLowerBound(shop: JobShop): number {
  const least = Array.from({ length: shop.machines }, () => ({
    head: Number.POSITIVE_INFINITY,
    load: 0,
    tail: Number.POSITIVE_INFINITY,
  }))
  let bound = 0
  for (const job of shop.jobs) {
    const length = job.reduce((sum, { duration }) => sum + duration, 0)
    bound = Math.max(bound, length)
    let head = 0
    for (const { machine, duration } of job) {
      const side = least[machine]!
      side.head = Math.min(side.head, head)
      side.load += duration
      side.tail = Math.min(side.tail, length - head - duration)
      head += duration
    }
  }
  for (const { head, load, tail } of least) if (load > 0) bound = Math.max(bound, head + load + tail)
  return bound
}
