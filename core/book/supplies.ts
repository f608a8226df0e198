import type { LocalDay } from '../time/local-day.ts'

/** Glue, finish or hardware, as far as the shop keeps count of it. */
export interface Supply {
  readonly id: string
  readonly name: string
  readonly kind: SupplyKind
  /** Of the almanac; null: hardware and what else is listed by name. */
  readonly productId: string | null
  /** Grams of glue, milliliters of finish, pieces of anything else; null: not counted. */
  readonly amount: number | null
  /** From which amount on it is bought again; null: no mark. */
  readonly reorderAt: number | null
  /** The day on which somebody found that there is none; null: there is some. */
  readonly outSince: LocalDay | null
  /** While it is out: the day on which it comes; null: nobody knows. */
  readonly expectedOn: LocalDay | null
}

export type SupplyKind = 'glue' | 'finish' | 'hardware' | 'other'

/** Whether it belongs on the shopping list: it is out, at its mark, or less than the open orders take. */
export const isLow = (
  { outSince, amount, reorderAt }: Pick<Supply, 'outSince' | 'amount' | 'reorderAt'>,
  needed: number,
): boolean => outSince !== null || (amount !== null && (amount < needed || amount <= (reorderAt ?? -1)))
