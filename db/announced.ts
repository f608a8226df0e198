import type { AnnouncedStart } from '../core/planning/index.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** SQLite takes so many values in one statement, with room to spare. */
const AT_ONCE = 5_000

/** When each step was to start, as the maker was last told. */
export async function announcedStarts(db: Db): Promise<AnnouncedStart[]> {
  const rows = await db.selectFrom('announced_start').selectAll().orderBy('start_min').orderBy('step_id').execute()
  return rows.map((row) => ({ step: row.step_id, start: row.start_min }))
}

/** Replaces all of it by what the maker is told now; what stays the same is not written again. Steps that are no longer in the book are passed over. */
export const announce = (db: Db, starts: readonly AnnouncedStart[]): Promise<void> =>
  inTransaction(db, async (trx) => {
    const before = new Map((await announcedStarts(trx)).map(({ step, start }) => [step, start]))
    const now = new Set(starts.map(({ step }) => step))
    for (const gone of inParts([...before.keys()].filter((step) => !now.has(step))))
      await trx.deleteFrom('announced_start').where('step_id', 'in', gone).execute()
    for (const moved of inParts(starts.filter(({ step, start }) => before.get(step) !== start))) {
      const wanted = moved.map(({ step }) => step)
      const rows = await trx.selectFrom('step').select('id').where('id', 'in', wanted).execute()
      const present = new Set(rows.map((row) => row.id))
      const values = moved
        .filter(({ step }) => present.has(step))
        .map(({ step, start }) => ({ step_id: step, start_min: start }))
      if (values.length === 0) continue
      await trx
        .insertInto('announced_start')
        .values(values)
        .onConflict((conflict) =>
          conflict.column('step_id').doUpdateSet(({ ref }) => ({ start_min: ref('excluded.start_min') })),
        )
        .execute()
    }
  })

const inParts = <T>(all: readonly T[]): T[][] =>
  Array.from({ length: Math.ceil(all.length / AT_ONCE) }, (_, part) => all.slice(part * AT_ONCE, (part + 1) * AT_ONCE))
