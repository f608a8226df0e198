import { createHash } from 'node:crypto'
import type SqliteFile from 'better-sqlite3'
import type { LogTable } from './schema.ts'

/** An entry as it is about to be written, without its number. */
type ChainedRow = Omit<LogTable, 'id' | 'checksum'>

/**
 * Checksum of an entry over its own content and the checksum of the entry before it: whatever is changed, left out or moved
 * later, by a failing disk or by hand, no longer fits. SQLite itself keeps no checksums of what stands in a field.
 */
export function checksumOf(row: ChainedRow, before: string | null): string {
  // By name and without what is empty, so that a column of later versions changes no checksum from before it.
  const content = Object.entries(row)
    .filter(([column, value]) => column !== 'id' && column !== 'checksum' && value !== null)
    .sort(([a], [b]) => (a < b ? -1 : 1))
  return createHash('sha256')
    .update(JSON.stringify([before, content]))
    .digest('base64url')
    .slice(0, 22)
}

/** Numbers of the entries that are not as they were written, or that do not follow the entry they were written after. */
export function brokenEntries(file: SqliteFile.Database): number[] {
  const broken: number[] = []
  let before: string | null = null
  const rows = file.prepare('select * from log order by id').iterate() as Iterable<
    ChainedRow & { readonly id: number; readonly checksum?: string | null }
  >
  for (const row of rows) {
    // A file of before there were any has no such column.
    const checksum = row.checksum ?? null
    // Once entries are chained, one without a checksum has lost it.
    if (checksum === null ? before !== null : checksum !== checksumOf(row, before)) broken.push(row.id)
    before = checksum
  }
  return broken
}
