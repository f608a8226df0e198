import type { MoneyEntry, MoneyStanding, MoneyState } from '../../core/money/ledger.ts'
import { moneyOf } from '../../db/money.ts'
import type { Db } from '../../db/schema.ts'

/** What changed hands, by order. */
export type MoneyByOrder = ReadonlyMap<string, readonly MoneyEntry[]>

/** @param commissions of these; without it: of all */
export async function moneyByOrder(db: Db, commissions?: readonly { readonly id: string }[]): Promise<MoneyByOrder> {
  const ids = commissions?.map(({ id }) => id)
  return Map.groupBy(await moneyOf(db, ids), ({ commissionId }) => commissionId)
}

/** The columns of the Order book that tell of money. */
export interface MoneyColumns {
  /** With tax and extras; null: no price yet. */
  readonly totalMinor: number | null
  readonly paidMinor: number
  readonly owedMinor: number
  readonly moneyState: MoneyState
}

export const moneyColumns = ({ totalMinor, paidMinor, owedMinor, state }: MoneyStanding): MoneyColumns => ({
  totalMinor,
  paidMinor,
  owedMinor,
  moneyState: state,
})
