import { entriesTakenBack, entryOf } from './log.ts'
import type { Db } from './schema.ts'

/** When each board was cut or used up, by its id, in milliseconds since the Unix epoch; from the log, as far as it counts. */
export async function boardsGone(db: Db): Promise<ReadonlyMap<string, number>> {
  const rows = await db
    .selectFrom('log')
    .selectAll()
    .where('action', 'in', ['board-cut', 'board-used-up'])
    .orderBy('id')
    .execute()
  const takenBack = await entriesTakenBack(db)
  const gone = new Map<string, number>()
  for (const { event, atMs, counts, undoes } of rows.map((row) => entryOf(row, takenBack))) {
    if (event.kind !== 'rows' || !counts || undoes !== null) continue
    for (const { table, key, before, after } of event.changes) {
      if (table !== 'board' || before === null || after === null || !('standing' in after)) continue
      if (after['standing'] === 'on-hand') gone.delete(String(key['id']))
      else gone.set(String(key['id']), atMs)
    }
  }
  return gone
}
