import type { NetworkLag, NetworkStep } from '../constructions/step-network.ts'
import type { WaitKind } from '../planning/index.ts'
import type { HomeAir } from '../wood/seasons.ts'
import type { Lumber } from './lumber.ts'
import type { PromiseRecord } from './promise.ts'
import type { FailureReason } from './failure-reasons.ts'

/**
 * The order book as plain data: what the store remembers and everything else is derived from. Instants are whole minutes
 * since the Unix epoch; days are local civil days `YYYY-MM-DD` in the shop's time zone; money is integer minor units.
 */
export interface Book {
  readonly commissions: readonly Commission[]
  readonly pieces: readonly Piece[]
  readonly steps: readonly BookStep[]
  readonly lags: readonly BookLag[]
  /** Every log entry of the steps of these commissions that still counts (neither an undo nor undone), oldest first. */
  readonly log: readonly StepEntry[]
  /**
   * Of an open book: the late ones of commissions that are closed by now, because they tell when somebody was in the shop. The same object
   * for as long as they are the same.
   */
  readonly lately?: readonly StepEntry[]
  /** The instant from which on those are read. */
  readonly latelySince?: number
  /** Number that the next order will get. */
  readonly nextNumber?: number
  /** Days given and quoted for these commissions, oldest first; only those that count. */
  readonly promises: readonly PromiseRecord[]
}

export interface Customer {
  readonly id: string
  readonly name: string
  /** How to reach them, as told: a telephone number or a mail address. */
  readonly reach: string
  readonly secondReach: string
  readonly address: string
  /** Nuts, wood dust, ...; empty: not asked, 'none' when asked and none. */
  readonly allergies: string
  readonly childUnder3: 'yes' | 'no' | 'not-asked'
  /** What to know of them with every order: "rings twice", "no strong smells". */
  readonly notes: string
}

export interface Commission {
  readonly id: string
  /** Running number by which people speak of it. */
  readonly number: number
  readonly customer: Customer
  readonly takenAtMin: number
  readonly takenWhere: TakenWhere
  readonly standing: Standing
  /** On hold until that day (exclusive of working on it before); null: not on hold. 'open-end' when nobody knows. */
  readonly onHoldUntil: string | 'open-end' | null
  readonly onHoldWhy: string
  readonly neededBy: string | null
  readonly neededWhy: string
  /** The promise date given to the customer: done by the end of this day. */
  readonly promisedFor: string | null
  /** How bad it is to be late relative to the others; 1 is usual. */
  readonly weight: number
  readonly notes: string
  /** The air of the home where it will live, as said with the order; null: the almanac's. */
  readonly home: HomeAir | null
  readonly priceMinor: number | null
  /** The deposit that was agreed on; what was paid of it is in the money entries. */
  readonly depositMinor: number
  /** Why no tax falls on it: a resale certificate with its number; empty: taxed as the almanac says. */
  readonly untaxedWhy: string
  /** Packing, delivery, engraving, a discount: lines of their own beside the price of the pieces. */
  readonly extraLines: readonly ExtraLine[]
  readonly lumber: Lumber
  /** The day on which the maker wants to be told of it: to call back about an inquiry, to look after what is on hold. */
  readonly remindOn: string | null
  /** The day on which the customer was last told how it stands. */
  readonly toldOn: string | null
  /** What it was before it was closed, and why it was; null while it is open, and of before that was kept. */
  readonly closedFrom: 'asked-about' | 'agreed' | null
  readonly closedWhy: string
  /** What is kept of the payments of a canceled order, as typed; null: as proposed. */
  readonly keptMinor: number | null
  /** The earlier order that it makes again, repairs or answers for. */
  readonly belongsTo: Belonging | null
  /** Who gets it and where, if that is not the customer; empty: the customer. */
  readonly giftFor: string
  readonly giftAddress: string
}

export interface Belonging {
  readonly commissionId: string
  readonly as: 'again' | 'repair' | 'complaint'
}

/** A line of a price beside the pieces; less than nothing for a discount. */
export interface ExtraLine {
  readonly name: string
  readonly minor: number
  readonly taxed: boolean
}

export type TakenWhere = 'fair' | 'in-person' | 'phone' | 'mail'

/** What people decided about it; *in the shop* and *ready for pickup* follow from the log. */
export type Standing = 'asked-about' | 'agreed' | 'handed-over' | 'called-off'

export interface Piece {
  readonly id: string
  readonly commissionId: string
  /** Order within the commission, from 0. */
  readonly position: number
  /** Construction id; see core/constructions. */
  readonly construction: string
  readonly title: string
  readonly count: number
  /** The checked spec as the construction's `read` gave it. */
  readonly spec: unknown
  /** The day on which it left before the rest of its order did. */
  readonly handedOverOn?: string
}

export interface BookStep extends NetworkStep {
  readonly id: string
  readonly pieceId: string
  readonly commissionId: string
  /** Order within the piece, from 0; a reading order, the network decides what may happen when. */
  readonly position: number
  /** Lot of the batch from 1, of so many lots, with so many pieces. */
  readonly lot: number
  readonly lots: number
  readonly lotCount: number
  /** Its result is lost (it failed, or is no longer wanted); the hours stay counted, and nothing waits for it. */
  readonly lost?: true
}

export interface BookLag extends NetworkLag {
  readonly pieceId: string
  readonly fromStep: string
  readonly toStep: string
}

/** History to a step: who, what, when. */
export interface StepEntry {
  readonly id: number
  readonly atMin: number
  readonly stepId: string
  readonly makerId: string | null
  /** When it was pressed, where that is not the instant that it is about: made up for later. */
  readonly pressedAtMin?: number
  readonly action: StepAction
}

export type StepAction =
  /**
   * `setUpMin`: minutes of preparing the machine that it begins with, by the planner's rule; absent: of before that was kept.
   * `remedy`: the window to it had closed, so that what makes up for that is in its work; absent: it had not, or of before that was kept.
   */
  | { readonly kind: 'started'; readonly setUpMin?: number; readonly remedy?: true }
  | { readonly kind: 'paused' }
  /** `workedMin`: how long it took, up to this instant, as said by somebody who had not pressed Start; `setUpMin` and `remedy` as of a start. */
  /** `to`: carried at once to this place of the almanac, to dry there; absent: it stays in the shop. */
  | {
      readonly kind: 'done'
      readonly workedMin?: number
      readonly setUpMin?: number
      readonly remedy?: true
      readonly to?: string
    }
  /**
   * All work at the step as it really was, in place of whatever was logged before: the stretches that are over, since when it has
   * been going on, when it was done. Nothing of the three: it was never begun.
   */
  | {
      readonly kind: 'put-right'
      readonly why: PutRightWhy
      readonly stretches: readonly LoggedStretch[]
      readonly runningSinceMin: number | null
      readonly doneAtMin: number | null
      /** As of a start, where nothing was logged before. */
      readonly setUpMin?: number
      readonly remedy?: true
    }
  /** What waits after it has been carried to a place of the almanac; null: back into the shop. */
  | { readonly kind: 'moved'; readonly place: string | null }
  /** Not dry (or not cured) when looked at: what follows it waits until `untilMin`. */
  | { readonly kind: 'still-tacky'; readonly untilMin: number }
  /** Looked at, and the wait after `afterStep` that leads to it is over, whatever the label says; longer ones than `minMin` go on. */
  | { readonly kind: 'found-ready'; readonly afterStep: string; readonly wait: WaitKind; readonly minMin: number }
  /** Something of it failed: why, how many of its pieces, from which step they are made again, and what wood that costs, where known. */
  | {
      readonly kind: 'failed'
      readonly reason: FailureReason
      readonly count: number
      readonly fromStepId: string
      readonly woodMinor: number | null
      /** Hands-on minutes whose result is lost; absent: of before that was kept. */
      readonly lostMin?: number
    }
  /** The boards that its parts came from are off the list already, or were never on it. */
  | { readonly kind: 'wood-off-list' }
  /** The maker wants it on that day. */
  | { readonly kind: 'pinned'; readonly day: string | null }

/** `entered`: work that nobody pressed for; `corrected`: other times or another maker; `wrong-step` and `moved-here`: a press on the wrong line. */
export type PutRightWhy = 'entered' | 'corrected' | 'wrong-step' | 'moved-here'

export interface LoggedStretch {
  readonly fromMin: number
  readonly toMin: number
  readonly makerId: string | null
}
