import type { PieceUse } from '../../cautions/cautions-for-step.ts'

/** Steps by hand: whatever the maker writes down, in the order and with the waits that were typed. */
export interface FreeListSpec {
  readonly title: string
  readonly rows: readonly FreeRow[]
  /** As far as cautions depend on it; absent: nothing special. */
  readonly isFor?: Exclude<PieceUse, 'other'>
}

export interface FreeRow {
  readonly name: string
  /** Hands-on minutes for one piece. */
  readonly minutes: number
  readonly kind: FreeKind
  /** Minutes that must pass after it, and within which the next must start; null: no limit. */
  readonly waitMin: number
  readonly atMostMin: number | null
  /** Positions of the rows that come directly before it, from 0. */
  readonly after: readonly number[]
  readonly dusty: boolean
  /** Clamps it takes, or places on the rack, for one piece. */
  readonly units: number
}

/** machine and hand work may be interrupted, a glue-up and a coat may not. */
export type FreeKind = 'machine' | 'hand' | 'glue-up' | 'coat'
