import { createHash } from 'node:crypto'
import type SqliteFile from 'better-sqlite3'
import { sql } from 'kysely'
import type { Db } from './schema.ts'
import type { LogTable } from './order-tables.ts'

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
    if (isBroken({ ...row, checksum }, before)) broken.push(row.id)
    before = checksum
  }
  return broken
}

/** Numbers of those entries about a commission that are not as they were written, or whose text cannot be read. */
export async function damagedEntriesOf(db: Db, commissionId: string): Promise<ReadonlySet<number>> {
  const rows = await db
    .selectFrom('log')
    .selectAll('log')
    .select((of) => [
      of
        .selectFrom('log as earlier')
        .select('earlier.checksum')
        .whereRef('earlier.id', '<', 'log.id')
        .orderBy('earlier.id', 'desc')
        .limit(1)
        .as('checksumBefore'),
      sql<number>`json_valid(coalesce(log.before, '{}')) and json_valid(coalesce(log.after, '{}'))`.as('isReadable'),
    ])
    .where('log.commission_id', '=', commissionId)
    .execute()
  const damaged = rows.filter(
    ({ checksumBefore, isReadable, ...row }) => isReadable !== 1 || isBroken(row, checksumBefore),
  )
  return new Set(damaged.map(({ id }) => id))
}

/** Once entries are chained, one without a checksum has lost it. */
const isBroken = (row: ChainedRow & { readonly checksum: string | null }, before: string | null): boolean =>
  row.checksum === null ? before !== null : row.checksum !== checksumOf(row, before)

/** The texts of an entry that may be rewritten when a person is erased. */
export type EntryTexts = Pick<LogTable, 'before' | 'after' | 'note'>

/**
 * Rewrites the texts of some entries and chains all that follow anew. An entry that was not as it was written before stays so: rewriting
 * mends no damage. To be called where the log may be changed, see `db/erase-person.ts`.
 */
export async function rewriteEntries(trx: Db, texts: ReadonlyMap<number, EntryTexts>): Promise<void> {
  const first = Math.min(...texts.keys())
  const last = await trx
    .selectFrom('log')
    .select('checksum')
    .where('id', '<', first)
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst()
  let [was, is] = [last?.checksum ?? null, last?.checksum ?? null]
  for (let from = first; ;) {
    const rows = await trx.selectFrom('log').selectAll().where('id', '>=', from).orderBy('id').limit(PORTION).execute()
    const written = rows.map((row) => {
      const after = { ...row, ...texts.get(row.id) }
      const isSound = row.checksum === checksumOf(row, was)
      was = row.checksum
      is = isSound ? checksumOf(after, is) : row.checksum
      return [row.id, after.before, after.after, after.note, is]
    })
    await sql`
      update log set
        before = json_extract(entry.value, '$[1]'), after = json_extract(entry.value, '$[2]'),
        note = json_extract(entry.value, '$[3]'), checksum = json_extract(entry.value, '$[4]')
      from json_each(${JSON.stringify(written)}) as entry where log.id = json_extract(entry.value, '$[0]')`.execute(trx)
    const end = rows.at(-1)
    if (end === undefined || rows.length < PORTION) return
    from = end.id + 1
  }
}

/** Entries read and written at once. */
const PORTION = 1000
