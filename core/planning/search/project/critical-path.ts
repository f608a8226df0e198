import { reversedArcs, topologicalOrder, type Project } from './project.ts'

/** Longest ways through a project when resources are unlimited. */
export interface CriticalPath {
  /** Earliest starts. */
  readonly heads: Int32Array
  /** Longest way from the end of the activity to the end of the project; latest finish = length - tail. */
  readonly tails: Int32Array
  readonly length: number
}

export function criticalPath(project: Project): CriticalPath {
  const { durations, successors } = project
  const order = topologicalOrder(successors)
  const heads = longestWays(order, reversedArcs(successors), durations)
  const tails = longestWays(order.toReversed(), successors, durations)
  const length = durations.reduce(
    (longest, duration, activity) => Math.max(longest, heads[activity]! + duration + tails[activity]!),
    0,
  )
  return { heads, tails, length }
}

/** The critical path, or the busiest resource if that takes longer: no schedule has a shorter makespan. */
export function makespanLowerBound(project: Project): number {
  const loads = project.capacities.map((capacity, resource) => {
    const work = project.durations.reduce(
      (sum, duration, activity) => sum + duration * project.needs[activity]![resource]!,
      0,
    )
    return capacity === 0 ? 0 : Math.ceil(work / capacity)
  })
  return Math.max(criticalPath(project).length, ...loads)
}

function longestWays(
  order: readonly number[],
  before: readonly (readonly number[])[],
  durations: readonly number[],
): Int32Array {
  const ways = new Int32Array(durations.length)
  for (const activity of order) {
    for (const earlier of before[activity]!)
      ways[activity] = Math.max(ways[activity]!, ways[earlier]! + durations[earlier]!)
  }
  return ways
}
