import type { StepEntry } from '../../core/book/book.ts'
import type { Listed } from './executor/evening.ts'
import type { Failure } from './presses.ts'
import type { WorkOrder } from './work-order.ts'

/** A day that was told to a customer, and what was said of it. All instants are ends of days unless said otherwise. */
export interface Promised {
  readonly at: number
  readonly dueAt: number
  /** Chance that everything is finished by `dueAt`, as it was stated; null: nothing was said. */
  readonly stated: number | null
  /** The same if no order were taken later; null: nothing was said. */
  readonly alone: number | null
  /** By when it is finished 1 time in 2, 4 times in 5, 19 times in 20; null: nothing was said. */
  readonly days: readonly [number, number, number] | null
  /** The chance that was stated of each of them: a whole day has more than the instant that reaches 1 in 2. */
  readonly daysStated: readonly [number, number, number] | null
  /** When the plan has it finished, an instant; null: there is no plan. */
  readonly plannedAt: number | null
  /** Other promises whose chance fell by more than the guard allows; null: nobody looked. */
  readonly pushed: number | null
}

/** What came of one customer. */
export interface Outcome {
  readonly id: string
  readonly askedAt: number
  readonly handsOnMin: number
  readonly stayed: boolean
  /** The promise that was last given. */
  readonly promised: Promised
  /** Null: not done when the last day was over. */
  readonly doneAt: number | null
}

/** An open order as its maker sees it. */
export interface OpenOrder {
  readonly order: WorkOrder
  readonly promised: Promised
}

/** What a maker knows at an instant, and a policy may look at. */
export interface ShopView {
  readonly now: number
  readonly open: readonly OpenOrder[]
  readonly isDone: (step: string) => boolean
  readonly hasStarted: (step: string) => boolean
  /** Presses of the open orders' steps until now. */
  readonly log: readonly StepEntry[]
  /** Every press of every step that was not taken back, until now. */
  readonly wholeLog: () => readonly StepEntry[]
  /** What was said to have gone wrong until now, of all orders. */
  readonly failures: () => readonly Failure[]
}

/** How days are quoted and evenings are worked. Knows nothing but what it is shown. */
export interface Policy {
  readonly name: string
  quote(view: ShopView, asked: WorkOrder): Promised
  /** The order that was quoted last was taken. */
  taken(order: OpenOrder): void
  /** The list for the evening that begins. */
  list(view: ShopView): readonly Listed[]
}
