import { type NewEntry, record } from './log.ts'
import { applyChanges, type RowChange } from './row-changes.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** Makes the changes and writes the entry about them, both or neither. Answers with the entry's number; null when there was nothing to change. */
export const change = (
  db: Db,
  changes: readonly RowChange[],
  entry: Omit<NewEntry, 'event' | 'undoes'>,
): Promise<number | null> =>
  inTransaction(db, async (trx) => {
    if (changes.length === 0) return null
    await applyChanges(trx, changes)
    return record(trx, { ...entry, event: { kind: 'rows', changes } })
  })
