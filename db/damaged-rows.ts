import type SqliteFile from 'better-sqlite3'
import { brokenEntries } from './log-chain.ts'
import type { Cells, ChangeableTable } from './row-changes.ts'
import { brokenDigests } from './row-digest.ts'
import { compareWithLog, type Misfit } from './rows-as-logged.ts'
import { canBeCompared } from './rows-found.ts'
import { areDefinitionsDamaged } from './table-definitions.ts'

/**
 * Damage that SQLite's own checks pass over, as it lies inside the text of fields: JSON that cannot be read, references to what
 * is not there, entries of the log that are not as they were written. Sentences for people; the rest of the file is of use.
 */
export function damagedRows(file: SqliteFile.Database): string[] {
  if (canBeCompared(file) && areDefinitionsDamaged(file)) return ['the tables are not defined as they were']
  const broken = brokenEntries(file)
  return [
    ...unreadableJson(file),
    ...danglingReferences(file),
    ...broken.map((id) => `entry ${id} of the log is not as it was written`),
    ...brokenDigests(file),
    ...(canBeCompared(file)
      ? compareWithLog(file, new Set(broken)).misfits.map((misfit) => inWords(file, misfit))
      : []),
  ]
}

/** “title” in a piece of order 3 is not as it was written (the log has “Bread board”) */
function inWords(file: SqliteFile.Database, { table, key, column, is, logged }: Misfit): string {
  const number = orderOf(file, table, key)
  const where = WORDS[table] === undefined ? `a row of ${table}` : WORDS[table]
  const whose = number === undefined ? where : `${where} of order ${number}`
  if (column === null) return `${whose} is ${is === 0 ? 'missing' : 'there again, which was removed'}`
  return `“${column}” in ${whose} is not as it was written (the log has “${String(logged).slice(0, 60)}”)`
}

const WORDS: { readonly [Table in ChangeableTable]?: string } = {
  customer: 'the customer',
  commission: 'the terms',
  ...{ piece: 'a piece', step: 'a step', step_hold: 'what a step holds', lag: 'a wait', money_entry: 'a payment' },
}

/** How a row leads to its order. */
function orderOf(file: SqliteFile.Database, table: ChangeableTable, key: Cells): number | undefined {
  const id = Object.values(key)[0]
  const one = (query: string, of: unknown): unknown => file.prepare(query).pluck().get(of)
  const ofStep = () => one('select piece_id from step where id = ?', id)
  const ofPiece = (piece: unknown) => one('select commission_id from piece where id = ?', piece)
  const ways: { readonly [Table in ChangeableTable]?: () => unknown } = {
    customer: () => one('select id from commission where customer_id = ? order by number', id),
    commission: () => id,
    piece: () => ofPiece(id),
    lag: () => ofPiece(id),
    step: () => ofPiece(ofStep()),
    step_hold: () => ofPiece(ofStep()),
    money_entry: () => one('select commission_id from money_entry where id = ?', id),
  }
  return one('select number from commission where id = ?', ways[table]?.()) as number | undefined
}

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
