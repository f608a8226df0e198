import { ERASED_NAME } from './leave-out.ts'
import type { Db } from './schema.ts'

/** Who was erased on request, by customer id: what an older copy has to be asked about once it is opened. */
export async function erasedCustomers(db: Db): Promise<string[]> {
  const rows = await db.selectFrom('erasure').select('customer_id').orderBy('customer_id').execute()
  return rows.map((row) => row.customer_id)
}

/** Customers that were erased once and stand in this book again, because it is an older copy. */
export async function toEraseAgain(db: Db): Promise<string[]> {
  const rows = await db.selectFrom('erasure').select('customer_id').where('done_at_ms', 'is', null).execute()
  return rows.map((row) => row.customer_id)
}

/** Notes in a book that was just opened in place of another whom that one had erased. */
export async function noteErased(db: Db, customerIds: readonly string[], atMs: number): Promise<void> {
  if (customerIds.length === 0) return
  const back = await db
    .selectFrom('customer')
    .select('id')
    .where('id', 'in', customerIds)
    .where('name', '<>', ERASED_NAME)
    .execute()
  for (const { id } of back) {
    await db
      .insertInto('erasure')
      .values({ customer_id: id, asked_at_ms: atMs, done_at_ms: null })
      .onConflict((conflict) => conflict.column('customer_id').doUpdateSet({ done_at_ms: null }))
      .execute()
  }
}
