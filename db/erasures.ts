import SqliteFile from 'better-sqlite3'
import { leavingNoTrace } from './examine-file.ts'
import { ERASED_NAME } from './leave-out.ts'
import { withDigest } from './row-digest.ts'
import type { Database, Db } from './schema.ts'

/** Who was erased on request, by customer id: what an older copy has to be asked about once it is opened. */
export async function erasedCustomers(db: Db): Promise<string[]> {
  const rows = await db.selectFrom('erasure').select('customer_id').orderBy('customer_id').execute()
  return rows.map((row) => row.customer_id)
}

/** The same of a file that is not open, as far as it can be read. */
export function erasedIn(path: string): readonly string[] {
  return leavingNoTrace(path, () => {
    let file: SqliteFile.Database | undefined
    try {
      file = new SqliteFile(path, { readonly: true, fileMustExist: true })
      return file.prepare('select customer_id from erasure').pluck().all() as string[]
    } catch (error) {
      if (!(error instanceof SqliteFile.SqliteError)) throw error
      return []
    } finally {
      file?.close()
    }
  })
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
    await keepErasure(db, { customer_id: id, asked_at_ms: atMs, done_at_ms: null })
  }
}

/** Notes who was erased, or is to be again. When that was asked for first stays. */
export async function keepErasure(
  db: Db,
  { customer_id, asked_at_ms, done_at_ms }: Omit<Database['erasure'], 'digest'>,
): Promise<void> {
  const before = await db
    .selectFrom('erasure')
    .select('asked_at_ms')
    .where('customer_id', '=', customer_id)
    .executeTakeFirst()
  const row = withDigest('erasure', { customer_id, asked_at_ms: before?.asked_at_ms ?? asked_at_ms, done_at_ms })
  await db
    .insertInto('erasure')
    .values(row)
    .onConflict((conflict) => conflict.column('customer_id').doUpdateSet({ done_at_ms, digest: row.digest }))
    .execute()
}
