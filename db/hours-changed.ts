import type { Maker } from '../core/almanac/almanac.ts'
import { makerHours } from './hours-rows.ts'
import { entriesTakenBack, entryOf } from './log.ts'
import type { Cells, RowChange } from './row-changes.ts'
import type { Db } from './schema.ts'

/**
 * When the weekly hours of each maker came to be as they are, by the last entry of the log that counts and changed them: whole minutes since
 * the Unix epoch. Whose hours were never changed is not in it.
 * @param starting the makers that a new shop starts with
 */
export async function hoursChangedAt(db: Db, starting: readonly Maker[]): Promise<ReadonlyMap<string, number>> {
  const rows = await db.selectFrom('log').selectAll().where('action', '=', 'almanac-changed').orderBy('id').execute()
  const takenBack = await entriesTakenBack(db)
  const changedAt = new Map<string, number>()
  for (const { atMs, event, counts } of rows.map((row) => entryOf(row, takenBack)))
    if (counts && event.kind === 'rows')
      for (const maker of whoseHours(event.changes, starting)) changedAt.set(maker, Math.floor(atMs / 60_000))
  return changedAt
}

/** Whose hours an entry changed. */
function whoseHours(changes: readonly RowChange[], starting: readonly Maker[]): readonly string[] {
  const hours = Map.groupBy(
    changes.filter(({ table }) => table === 'maker_hours'),
    ({ key }) => String(key['maker_id']),
  )
  const makers = [...hours.keys()]
  // Makers are stored from the first change of any of them on: what is written or removed then are all rows, changed or not.
  if (!changes.some(({ table, key }) => table === 'own_list' && key['name'] === 'makers')) return makers
  const started = Map.groupBy(starting.flatMap(makerHours), ({ maker_id }) => maker_id)
  return makers.filter((maker) => {
    const stored = hours.get(maker)!.map(({ before, after }) => after ?? before ?? {})
    return inWords(stored) !== inWords(started.get(maker) ?? [])
  })
}

const inWords = (rows: readonly Cells[]): string =>
  rows
    .map(({ weekday, from_min, to_min }) => `${weekday} ${from_min} ${to_min}`)
    .sort()
    .join()
