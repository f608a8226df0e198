import type { LocalDay } from '../core/time/local-day.ts'

/** What a press did; which chances moved because of it comes with the event `odds`. */
export interface Moved {
  readonly said: string
  /** Log entry that `undo` takes back; null: nothing to take back. */
  readonly entryId: number | null
  /** It is kept, and what follows from it is still being worked out: the screens are told once it is. */
  readonly datesFollow?: boolean
  /** Another day that the customer may be told of, where the promised one can hardly be kept any more. */
  /** What of it is money, as a sentence: for the desk alone. */
  readonly sums?: string | undefined
  readonly newDay?: NewDay | undefined
}

/** Held to only once the maker says so. */
export interface NewDay {
  readonly commissionId: string
  /** "Mon, Mar 9" */
  readonly word: string
  readonly day: LocalDay
  /** What the promise record says about it. */
  readonly why: string
}
