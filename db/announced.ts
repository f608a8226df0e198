import type { AnnouncedStart } from '../core/planning/index.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** What the maker was last told for today and tomorrow. */
export async function announcedStarts(db: Db): Promise<AnnouncedStart[]> {
  const rows = await db.selectFrom('announced_start').selectAll().orderBy('start_min').orderBy('step_id').execute()
  return rows.map((row) => ({ step: row.step_id, start: row.start_min }))
}

/** Replaces all of it by what the maker is told now. Steps that are no longer in the book are passed over. */
export const announce = (db: Db, starts: readonly AnnouncedStart[]): Promise<void> =>
  inTransaction(db, async (trx) => {
    await trx.deleteFrom('announced_start').execute()
    if (starts.length === 0) return
    const wanted = starts.map((one) => one.step)
    const rows = await trx.selectFrom('step').select('id').where('id', 'in', wanted).execute()
    const present = new Set(rows.map((row) => row.id))
    const values = starts
      .filter((one) => present.has(one.step))
      .map((one) => ({ step_id: one.step, start_min: one.start }))
    if (values.length > 0) await trx.insertInto('announced_start').values(values).execute()
  })
