import type { WaitKind } from '../planning/index.ts'

/**
 * One stretch of hands-on work on a lot of equal pieces, as a construction makes it and as it is stored: everything the
 * Bench and the planner need, nothing of when. `key` is unique within the lot and stable for a given spec.
 */
export interface NetworkStep {
  readonly key: string
  /** Key of the standard time in the almanac: `rip-strips`, `glue-up`, `wipe-coat`. */
  readonly operation: string
  /** As the maker would say it: "First glue-up". */
  readonly name: string
  /** What to do, one or two sentences; may be empty. */
  readonly note: string
  /** Hands-on minutes for the whole lot without set-up, with their three-point spread (optimistic <= minutes <= pessimistic). */
  readonly minutes: number
  readonly optimisticMin: number
  readonly pessimisticMin: number
  /** How many of the standard time's units it was counted as, at so many minutes each; null: of before that was kept. */
  readonly units: StepUnits | null
  readonly hands: number
  readonly interruptible: boolean
  readonly smallestStretchMin: number
  readonly holds: readonly NetworkHold[]
  readonly dusty: boolean
  /** Minutes during which its finish is tacky after it; 0: none. */
  readonly tackyMin: number
  /** Product whose conditions slow `tackyMin`; null: plain elapsed time. */
  readonly tackyProduct: string | null
  /** Of a glue-up: minutes from the first glue to full pressure, to be held against the glue's assembly time at that hour. */
  readonly spreadMin?: number
  readonly setUp: { readonly family: string; readonly minutes: number } | null
  /** Ids of every caution that it calls for, worst first. */
  readonly cautions: readonly string[]
}

export interface StepUnits {
  readonly count: number
  readonly eachMin: number
}

/** Station units taken from the start of the step until `until`. */
export interface NetworkHold {
  /** Almanac station id. */
  readonly station: string
  readonly units: number
  readonly until:
    | { readonly kind: 'end' }
    | { readonly kind: 'after'; readonly minutes: number }
    | { readonly kind: 'start-of'; readonly step: string }
    | { readonly kind: 'end-of'; readonly step: string }
}

/** Elapsed time between two steps of the lot, by key. See `Lag` in planning/model.ts. */
export interface NetworkLag {
  readonly from: string
  readonly to: string
  readonly wait: WaitKind
  /** "glue in clamps", "first coat drying". */
  readonly name: string
  /** Reference minutes that must pass (0: at once) with their published range. */
  readonly minMin: number
  readonly optimisticMin: number
  readonly pessimisticMin: number
  readonly maxMin: number | null
  readonly remedy: { readonly name: string; readonly minutes: number } | null
  /** Glue or finish whose conditions (temperature, damp) slow the wait; null: plain elapsed time. */
  readonly product: string | null
  /** Where the figure comes from, for "why?". */
  readonly source: string
}
