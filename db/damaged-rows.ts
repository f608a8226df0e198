import type SqliteFile from 'better-sqlite3'
import { brokenEntries } from './log-chain.ts'

/**
 * Damage that SQLite's own checks pass over, as it lies inside the text of fields: JSON that cannot be read, references to what
 * is not there, entries of the log that are not as they were written. Sentences for people; the rest of the file is of use.
 */
export const damagedRows = (file: SqliteFile.Database): string[] => [
  ...unreadableJson(file),
  ...danglingReferences(file),
  ...brokenEntries(file).map((id) => `entry ${id} of the log is not as it was written`),
]

/** Rows that refer to rows which are not there, as sentences. */
export function danglingReferences(file: SqliteFile.Database): string[] {
  const rows = file.pragma('foreign_key_check') as { table: string; rowid: number | null; parent: string }[]
  return rows.map((row) => `a row of ${row.table} refers to a missing row of ${row.parent}`)
}

/** Every column that its table says is JSON. */
function unreadableJson(file: SqliteFile.Database): string[] {
  const tables = file.prepare(`select name, sql from sqlite_schema where type = 'table' and sql is not null`).all() as {
    name: string
    sql: string
  }[]
  return tables.flatMap(({ name, sql }) =>
    [...new Set([...sql.matchAll(/json_(?:valid|type)\((\w+)\)/g)].map(([, column]) => column))].flatMap((column) => {
      const rows = file.prepare(`select rowid from "${name}" where not json_valid("${column}")`).pluck().all()
      return rows.map((row) => `“${column}” in row ${String(row)} of ${name} cannot be read`)
    }),
  )
}
