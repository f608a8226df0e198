import type { MoneyEntry, MoneyStanding } from '../../core/money/ledger.ts'
import { moneyOf } from '../../db/money.ts'
import type { Db } from '../../db/schema.ts'
import type { OrderRow } from '../views.ts'

/** What changed hands, by order. */
export type MoneyByOrder = ReadonlyMap<string, readonly MoneyEntry[]>

export async function moneyByOrder(db: Db, commissions: readonly { readonly id: string }[]): Promise<MoneyByOrder> {
  const ids = commissions.map(({ id }) => id)
  return Map.groupBy(await moneyOf(db, ids), ({ commissionId }) => commissionId)
}

/** The columns of the order book that tell of money. */
export const moneyColumns = ({
  totalMinor,
  paidMinor,
  owedMinor,
  state,
}: MoneyStanding): Pick<OrderRow, 'totalMinor' | 'paidMinor' | 'owedMinor' | 'moneyState'> => ({
  totalMinor,
  paidMinor,
  owedMinor,
  moneyState: state,
})
