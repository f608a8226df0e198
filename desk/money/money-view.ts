import type { MoneyEntry, MoneyStanding } from '../../core/money/ledger.ts'
import type { Taxed } from '../../core/money/sales-tax.ts'
import type { Spent } from './spent.ts'

/** An order's money for a screen: what was agreed, what changed hands, where it stands. */
export interface MoneyView {
  /** Lines, tax and total; null: no price yet. */
  readonly bill: Taxed | null
  readonly depositAskedMinor: number
  readonly standing: MoneyStanding
  /** Oldest first, those that were put right included. */
  readonly entries: readonly (MoneyEntry & { readonly takenBack: boolean })[]
  /** What may be kept of an order that is called off; null while nothing was paid. */
  readonly kept: {
    /** What the hours and the wood come to, never more than was paid. */
    readonly proposedMinor: number
    /** The maker typed another sum. */
    readonly isTyped: boolean
    readonly keptMinor: number
    readonly backMinor: number
    readonly laborMinor: number
    readonly spent: Spent
    readonly uniformCodeMinor: number
  } | null
}
