import SqliteFile from 'better-sqlite3'
import type { Db } from './schema.ts'

/** What the present book holds that a copy of it lacks. */
export interface Lacking {
  /** Orders that are not in the copy at all, by number. */
  readonly orders: readonly { readonly number: number; readonly customer: string }[]
  /** Everything written to the log since the copy and the present book were last the same. */
  readonly entries: number
}

/** Compares the open book with a copy. @throws SqliteError when the copy cannot be read */
export async function whatCopyLacks(db: Db, copyPath: string): Promise<Lacking> {
  const copy = new SqliteFile(copyPath, { readonly: true, fileMustExist: true })
  try {
    const inCopy = new Set(copy.prepare('select id from commission').pluck().all() as string[])
    const orders = await db
      .selectFrom('commission')
      .innerJoin('customer', 'customer.id', 'commission.customer_id')
      .select(['commission.id', 'commission.number', 'customer.name as customer'])
      .orderBy('commission.number')
      .execute()
    const last = (await db.selectFrom('log').select('id').orderBy('id', 'desc').limit(1).executeTakeFirst())?.id ?? 0
    return {
      orders: orders.filter((order) => !inCopy.has(order.id)).map(({ number, customer }) => ({ number, customer })),
      entries: last - (await lastInCommon(db, copy, last)),
    }
  } finally {
    copy.close()
  }
}

/** Entries are only ever added: up to some number both logs are the same, and after it nothing is. */
async function lastInCommon(db: Db, copy: SqliteFile.Database, last: number): Promise<number> {
  const theirs = copy.prepare('select at_ms, action, step_id from log where id = ?')
  const isSame = async (id: number): Promise<boolean> => {
    const ours = await db
      .selectFrom('log')
      .select(['at_ms', 'action', 'step_id'])
      .where('id', '=', id)
      .executeTakeFirst()
    return ours !== undefined && JSON.stringify(ours) === JSON.stringify(theirs.get(id))
  }
  let [same, different] = [0, last + 1]
  while (different - same > 1) {
    const middle = Math.floor((same + different) / 2)
    if (await isSame(middle)) same = middle
    else different = middle
  }
  return same
}
