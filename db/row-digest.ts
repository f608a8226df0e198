import { createHash } from 'node:crypto'
import type SqliteFile from 'better-sqlite3'

/**
 * Tables whose rows are not in the log: each row carries a digest of its own, without the columns named here (given by SQLite, or of
 * no weight).
 */
const WITHOUT = {
  draft: ['begun_at_ms'],
  erasure: [],
  notice_shown: [],
  paper: [],
  photo: [],
  promise: ['id'],
  running_number: [],
} as const satisfies Readonly<Record<string, readonly string[]>>

type DigestedTable = keyof typeof WITHOUT

/**
 * Digest of a row over its content by name, without what is empty: a column of later versions changes no digest from before it. SQLite
 * itself keeps no checksums of what stands in a field.
 */
export function digestOf(table: DigestedTable, row: object): string {
  const left: readonly string[] = WITHOUT[table]
  const content = Object.entries(row)
    .filter(([column, value]) => column !== 'digest' && !left.includes(column) && value !== null)
    .map(([column, value]: [string, unknown]) => [column, value instanceof Uint8Array ? sha256(value) : value])
    .sort(([a], [b]) => (String(a) < String(b) ? -1 : 1))
  return sha256(JSON.stringify([table, content])).slice(0, 22)
}

/** A row about to be written, with its digest. */
export const withDigest = <Row extends object>(table: DigestedTable, row: Row): Row & { readonly digest: string } => ({
  ...row,
  digest: digestOf(table, row),
})

/** Rows that are not as they were written, as sentences. One from before there were digests has none and is not looked at. */
export function brokenDigests(file: SqliteFile.Database): string[] {
  const columns = file.prepare(`select 1 from pragma_table_info(?) where name = 'digest'`)
  return (Object.keys(WITHOUT) as DigestedTable[]).flatMap((table) => {
    if (columns.get(table) === undefined) return []
    const broken: string[] = []
    const rows = file.prepare(`select rowid as digested_row, * from "${table}" where digest is not null`).iterate()
    for (const { digested_row, ...row } of rows as Iterable<{ digested_row: number; digest: string }>)
      if (digestOf(table, row) !== row.digest) broken.push(`row ${digested_row} of ${table} is not as it was written`)
    return broken
  })
}

const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('base64url')
