import type { WaitKind } from '../planning/index.ts'

/** What the maker decided about a wait that took another time here than its figure says. */
export interface OwnWait {
  /** Id of a glue or finish of the almanac. */
  readonly product: string
  readonly wait: RecordedWait
  readonly use: 'own' | 'label'
  /** How much longer it takes here than its figure at the same temperature and humidity: 1.5 is half as long again. */
  readonly factor: number
  /** How many waits had been looked at when it was decided. */
  readonly count: number
}

/** Waits at whose end somebody looks whether they are over; clamps stay on for as long as the label says. */
export type RecordedWait = Extract<WaitKind, 'curing' | 'drying' | 'resting'>
