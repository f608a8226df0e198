/**
 * A finish of several coats in order, of one product or several: what a maker calls by one name and orders ask for like a finish.
 */
export interface FinishSchedule {
  readonly id: string
  readonly name: string
  readonly layers: readonly FinishLayer[]
  /** Once the last coat is hard enough it is rubbed out with this grit or pad; null: it stays as it is. */
  readonly rubOut: string | null
  /** Id of the wax on top of it, put on once it is cured; null: none. */
  readonly wax: string | null
}

/** Coats of one product that follow each other. */
export interface FinishLayer {
  /** Id of a finish of the almanac. */
  readonly finish: string
  readonly coats: number
  readonly method: FinishMethod
  /** Grit of the sanding before each of these coats, but for the first of all; null: none. */
  readonly sandGrit: number | null
}

export type FinishMethod = 'wipe' | 'brush' | 'spray'
