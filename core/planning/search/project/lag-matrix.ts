import type { LaggedProject, StartLag } from './lagged-project.ts'

/** What follows from lags and from pairs that can never run together, before any search. */
export interface LagMatrix {
  /** distances[from * count + to]: start(to) >= start(from) + distance; -Infinity when nothing is known. */
  readonly distances: Float64Array
  readonly count: number
  /** Lags that were added because only one order of an exclusive pair is possible. */
  readonly added: readonly StartLag[]
  /** Pairs that cannot run at the same time and whose order is still open. */
  readonly exclusivePairs: readonly (readonly [number, number])[]
}

/**
 * Longest paths between all starts (Floyd-Warshall), repeated while they force the order of a pair whose needs together
 * exceed a capacity.
 * @returns null when the lags contradict each other
 */
export function lagMatrix(project: LaggedProject): LagMatrix | null {
  const count = project.durations.length
  const distances = new Float64Array(count * count).fill(Number.NEGATIVE_INFINITY)
  for (let activity = 0; activity < count; activity++) distances[activity * count + activity] = 0
  for (const { from, to, lag } of project.lags)
    distances[from * count + to] = Math.max(distances[from * count + to]!, lag)
  if (!closePaths(distances, count)) return null

  let open = exclusivePairs(project)
  const added: StartLag[] = []
  for (let changed = true; changed;) {
    changed = false
    const stillOpen: (readonly [number, number])[] = []
    for (const [a, b] of open) {
      const aFirst = couldPrecede(project, distances, a, b)
      const bFirst = couldPrecede(project, distances, b, a)
      if (!aFirst && !bFirst) return null
      if (aFirst && bFirst) {
        stillOpen.push([a, b])
        continue
      }
      const [from, to] = aFirst ? [a, b] : [b, a]
      const lag = project.durations[from]!
      if (distances[from * count + to]! < lag) {
        added.push({ from, to, lag })
        if (!insertLag(distances, count, from, to, lag)) return null
        changed = true
      }
    }
    open = stillOpen
  }
  return { distances, count, added, exclusivePairs: open }
}

function couldPrecede(project: LaggedProject, distances: Float64Array, first: number, second: number): boolean {
  return project.durations[first]! + distances[second * project.durations.length + first]! <= 0
}

function exclusivePairs(project: LaggedProject): (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = []
  project.durations.forEach((duration, a) => {
    for (let b = a + 1; duration > 0 && b < project.durations.length; b++) {
      const together = project.capacities.some(
        (capacity, resource) => project.needs[a]![resource]! + project.needs[b]![resource]! > capacity,
      )
      if (together && project.durations[b]! > 0) pairs.push([a, b])
    }
  })
  return pairs
}

function closePaths(distances: Float64Array, count: number): boolean {
  for (let via = 0; via < count; via++) {
    for (let from = 0; from < count; from++) {
      const first = distances[from * count + via]!
      if (first === Number.NEGATIVE_INFINITY) continue
      for (let to = 0; to < count; to++) {
        const length = first + distances[via * count + to]!
        if (length > distances[from * count + to]!) distances[from * count + to] = length
      }
    }
  }
  return noPositiveCircle(distances, count)
}

function insertLag(distances: Float64Array, count: number, tail: number, head: number, lag: number): boolean {
  for (let from = 0; from < count; from++) {
    const first = distances[from * count + tail]! + lag
    if (first === Number.NEGATIVE_INFINITY) continue
    for (let to = 0; to < count; to++) {
      const length = first + distances[head * count + to]!
      if (length > distances[from * count + to]!) distances[from * count + to] = length
    }
  }
  return noPositiveCircle(distances, count)
}

function noPositiveCircle(distances: Float64Array, count: number): boolean {
  for (let activity = 0; activity < count; activity++) if (distances[activity * count + activity]! > 0) return false
  return true
}
