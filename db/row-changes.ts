import type { ExpressionBuilder, Insertable, Kysely } from 'kysely'
import type { Database, Db } from './schema.ts'

/**
 * Tables whose rows people change and may change back, each with the columns by which a row is known. Everything that is
 * written to them goes through `applyChanges` and into the log.
 */
const KEYS = {
  draft: ['id'],
  customer: ['id'],
  commission: ['id'],
  piece: ['id'],
  step: ['id'],
  step_hold: ['step_id', 'position'],
  lag: ['piece_id', 'position'],
  shop: ['id'],
  unheated_month: ['month'],
  own_list: ['name'],
  maker: ['id'],
  maker_hours: ['maker_id', 'weekday', 'from_min'],
  special_day: ['id'],
  special_day_hours: ['special_day_id', 'from_min'],
  station: ['id'],
  product: ['shelf', 'id'],
  product_label: ['shelf', 'product_id', 'quantity'],
  wood: ['id'],
  own_construction: ['id'],
  standard_time: ['operation'],
  time_decision: ['operation'],
  observation_choice: ['step_id'],
  asked_time: ['operation'],
  allowance: ['name'],
  yard_size: ['kind', 'size_nm'],
  shop_figure: ['name'],
  drying_place: ['id'],
  own_wait: ['product', 'wait'],
  wood_price: ['wood'],
  money_fact: ['name'],
  money_entry: ['id'],
  year_figure: ['year', 'name'],
  board: ['id'],
  board_flaw: ['board_id', 'position'],
  part_cut: ['board_id', 'position'],
  supply: ['id'],
} as const satisfies { readonly [T in keyof Database]?: readonly (keyof Database[T])[] }

export type ChangeableTable = keyof typeof KEYS

export const CHANGEABLE_TABLES = Object.keys(KEYS) as readonly ChangeableTable[]

/** Rows of some tables, as they are stored. */
export type RowSet = { readonly [T in ChangeableTable]?: readonly Readonly<Insertable<Database[T]>>[] }

export type CellValue = string | number | null
export type Cells = { readonly [column: string]: CellValue }

/**
 * What became of one row. A new row has no `before`, a removed one no `after`, both then with all columns; of a changed row
 * only the columns that changed are in both.
 */
export interface RowChange {
  readonly table: ChangeableTable
  readonly key: Cells
  readonly before: Cells | null
  readonly after: Cells | null
}

/**
 * What has to be done to make `after` out of `before`.
 * @throws when two rows of a table have the same key: one of them would be lost
 */
export function changesBetween(before: RowSet, after: RowSet): RowChange[] {
  return CHANGEABLE_TABLES.flatMap((table) => {
    const old = byKey(table, before[table] ?? [])
    const wanted = byKey(table, after[table] ?? [])
    const changes: RowChange[] = []
    for (const [name, row] of old) {
      const next = wanted.get(name)
      if (next === undefined) changes.push({ table, key: keyOf(table, row), before: row, after: null })
      else {
        const columns = Object.keys(next).filter((column) => next[column] !== row[column])
        if (columns.length > 0)
          changes.push({ table, key: keyOf(table, row), before: pick(row, columns), after: pick(next, columns) })
      }
    }
    for (const [name, row] of wanted)
      if (!old.has(name)) changes.push({ table, key: keyOf(table, row), before: null, after: row })
    return changes
  })
}

/** The changes that take these back. */
export const reversed = (changes: readonly RowChange[]): RowChange[] =>
  changes.map(({ table, key, before, after }) => ({ table, key, before: after, after: before }))

/** The first change that no longer fits, because its row is not as it was before the change; null when all fit. */
export async function firstMisfit(db: Db, changes: readonly RowChange[]): Promise<RowChange | null> {
  for (const change of changes) {
    const row = (await anyTable(db)
      .selectFrom(change.table)
      .selectAll()
      .where(isRow(change.key))
      .executeTakeFirst()) as Cells | undefined
    const fits =
      change.before === null
        ? row === undefined
        : row !== undefined && Object.entries(change.before).every(([column, value]) => row[column] === value)
    if (!fits) return change
  }
  return null
}

/** Makes the changes; to be called within a transaction, at whose end the references among the rows are checked. */
export async function applyChanges(db: Db, changes: readonly RowChange[]): Promise<void> {
  const tables = anyTable(db)
  for (const { table, key, after } of changes.filter((change) => change.after === null || change.before !== null)) {
    if (after === null) await tables.deleteFrom(table).where(isRow(key)).execute()
    else await tables.updateTable(table).set(after).where(isRow(key)).execute()
  }
  for (const table of CHANGEABLE_TABLES) {
    const rows = changes.flatMap((change) =>
      change.table === table && change.before === null && change.after !== null ? [change.after] : [],
    )
    for (const some of inPortions(rows)) await tables.insertInto(table).values(some).execute()
  }
}

/** Changes name their table at run time, so the columns can't be checked by type here. */
const anyTable = (db: Db): Kysely<AnyTable> => db as unknown as Kysely<AnyTable>

type AnyTable = Record<string, Cells>

const isRow = (key: Cells) => (eb: ExpressionBuilder<AnyTable, string>) => eb.and(key)

export const keyOf = (table: ChangeableTable, row: Cells): Cells => pick(row, KEYS[table])

function byKey(table: ChangeableTable, rows: readonly object[]): Map<string, Cells> {
  const known = new Map<string, Cells>()
  for (const row of rows as readonly Cells[]) {
    const name = JSON.stringify(KEYS[table].map((column) => row[column]))
    if (known.has(name)) throw new Error(`Two rows of ${table} with the same key ${name}`)
    known.set(name, row)
  }
  return known
}

const pick = (row: Cells, columns: readonly string[]): Cells =>
  Object.fromEntries(columns.map((column) => [column, row[column] ?? null]))

/** A statement takes a limited number of values: at least 32,766 in any database that we aim at. */
function inPortions<T>(rows: readonly T[], size = 500): T[][] {
  const portions: T[][] = []
  for (let at = 0; at < rows.length; at += size) portions.push(rows.slice(at, at + size))
  return portions
}
