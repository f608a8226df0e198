/** A step that was done, with what it was estimated at. */
export interface TimedWork {
  /** What it is added up by: an order, a construction. */
  readonly of: string
  /** Set-up included as far as it was paid. */
  readonly estimatedMin: number
  readonly workedMin: number
}

export interface EstimateSum {
  readonly of: string
  readonly steps: number
  readonly estimatedMin: number
  readonly workedMin: number
}

/** Estimated and real minutes added up, in the order in which each was first met. */
export function estimateSums(work: readonly TimedWork[]): EstimateSum[] {
  const sums = new Map<string, EstimateSum>()
  for (const { of, estimatedMin, workedMin } of work) {
    const before = sums.get(of) ?? { of, steps: 0, estimatedMin: 0, workedMin: 0 }
    sums.set(of, {
      of,
      steps: before.steps + 1,
      estimatedMin: before.estimatedMin + estimatedMin,
      workedMin: before.workedMin + workedMin,
    })
  }
  return [...sums.values()]
}
