import { entriesTakenBack } from './log.ts'
import type { Db } from './schema.ts'

/** An order that was handed over, and when; null where the log does not say. */
export interface HandedOver {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly atMs: number | null
}

/** All orders that stand as handed over, by number. */
export async function ordersHandedOver(db: Db): Promise<HandedOver[]> {
  const orders = await db
    .selectFrom('commission')
    .innerJoin('customer', 'customer.id', 'commission.customer_id')
    .select(['commission.id', 'commission.number', 'customer.name'])
    .where('standing', '=', 'handed-over')
    .orderBy('commission.number')
    .execute()
  const entries = await db
    .selectFrom('log')
    .select(['id', 'commission_id', 'at_ms'])
    .where('action', '=', 'commission-handed-over')
    .orderBy('id')
    .execute()
  const takenBack = await entriesTakenBack(db)
  const atMs = new Map(entries.flatMap((row) => (takenBack.has(row.id) ? [] : [[row.commission_id, row.at_ms]])))
  return orders.map((row) => ({
    commissionId: row.id,
    number: row.number,
    customer: row.name,
    atMs: atMs.get(row.id) ?? null,
  }))
}
