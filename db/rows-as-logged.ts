import type SqliteFile from 'better-sqlite3'
import { CHANGEABLE_TABLES, keyOf, type Cells, type CellValue, type ChangeableTable } from './row-changes.ts'

/** Where a row is not as the newest entry of the log that tells of it says. */
export interface Misfit {
  readonly table: ChangeableTable
  readonly key: Cells
  /** Null: the row itself, missing or there again. */
  readonly column: string | null
  readonly is: CellValue
  readonly logged: CellValue
}

/** What all the rows were compared with. */
export interface AsLogged {
  readonly misfits: readonly Misfit[]
  /** Rows of which the log tells nothing. */
  readonly unlogged: readonly { readonly table: ChangeableTable; readonly key: Cells; readonly row: Cells }[]
}

/**
 * Compares the rows with the log, whose entries carry checksums: everything done to them stands there, so the newest word on each cell
 * is what the cell has to be. Read from the newest entry to the oldest; what a broken entry may have told of is passed over.
 * @param broken numbers of the entries that are not as they were written
 */
export function compareWithLog(file: SqliteFile.Database, broken: ReadonlySet<number>): AsLogged {
  const rows = new RowsInFile(file)
  const told = new Map<string, Set<string> | 'all'>()
  const misfits: Misfit[] = []
  /** Orders, or null for all, of which older entries are not relied on. */
  const blind = new Set<string | null>()
  const entries = file
    .prepare('select * from log where after is not null order by id desc')
    .iterate() as Iterable<LoggedEntry>
  for (const entry of entries) {
    if (broken.has(entry.id)) blind.add(entry.commission_id)
    const isRelied = !blind.has(null) && !blind.has(entry.commission_id)
    for (const { table, key, cells } of sidesOf(entry)) {
      if (!rows.has(table)) continue
      const name = nameOf(table, key)
      const before = told.get(name)
      if (before === 'all') continue
      if (!isRelied || cells === null) told.set(name, 'all')
      else told.set(name, new Set([...(before ?? []), ...Object.keys(cells)]))
      if (!isRelied || (cells === null && before !== undefined)) continue
      const row = rows.row(table, key)
      misfits.push(...misfitsOf({ table, key }, row, cells, before ?? new Set()))
      if (row === undefined) told.set(name, 'all')
    }
  }
  return { misfits, unlogged: rows.without(told) }
}

interface LoggedEntry {
  readonly id: number
  readonly commission_id: string | null
  readonly before: string | null
  readonly after: string | null
}

interface LoggedRow {
  readonly table: ChangeableTable
  readonly key: Cells
  /** Null: it was removed. */
  readonly cells: Cells | null
}

function misfitsOf(
  where: Pick<Misfit, 'table' | 'key'>,
  row: Cells | undefined,
  cells: Cells | null,
  newer: ReadonlySet<string>,
): Misfit[] {
  const isThere = row !== undefined
  if (isThere !== (cells !== null)) return [{ ...where, column: null, is: isThere ? 1 : 0, logged: isThere ? 0 : 1 }]
  return Object.entries(cells ?? {}).flatMap(([column, logged]) => {
    // A column that a later version took away tells nothing.
    const is = row?.[column]
    return is === undefined || is === logged || newer.has(column) ? [] : [{ ...where, column, is, logged }]
  })
}

/** What an entry says of rows: as they were after it, and which were gone. */
function sidesOf({ before, after }: LoggedEntry): LoggedRow[] {
  const [left, right] = [rowsIn(before), rowsIn(after)]
  const still = new Set(right.map(({ table, key }) => nameOf(table, key)))
  const gone = left.filter(({ table, key }) => !still.has(nameOf(table, key)))
  return [...right, ...gone.map(({ table, key }) => ({ table, key, cells: null }))]
}

function rowsIn(side: string | null): readonly LoggedRow[] {
  try {
    // Most entries are about steps alone.
    if (side === null || !side.startsWith('{"rows":')) return []
    const { rows } = JSON.parse(side) as { rows?: unknown }
    // In a damaged entry anything may stand in their place.
    return Array.isArray(rows) ? rows.filter(isLoggedRow) : []
  } catch {
    return []
  }
}

const isLoggedRow = (row: unknown): row is LoggedRow => {
  const { key, cells } = (row ?? {}) as Partial<LoggedRow>
  return typeof key === 'object' && key !== null && typeof cells === 'object'
}

const nameOf = (table: ChangeableTable, key: Cells): string => table + JSON.stringify(Object.values(key))

class RowsInFile {
  readonly #file: SqliteFile.Database
  readonly #tables: ReadonlySet<string>
  readonly #finders = new Map<ChangeableTable, SqliteFile.Statement>()

  constructor(file: SqliteFile.Database) {
    this.#file = file
    // Drafts are also written while somebody types, without an entry.
    this.#tables = new Set(CHANGEABLE_TABLES.filter((table) => table !== 'draft'))
  }

  has(table: ChangeableTable): boolean {
    return this.#tables.has(table)
  }

  row(table: ChangeableTable, key: Cells): Cells | undefined {
    let find = this.#finders.get(table)
    if (find === undefined) {
      const columns = Object.keys(key).map((column) => `"${column}" = ?`)
      find = this.#file.prepare(`select * from "${table}" where ${columns.join(' and ')}`)
      this.#finders.set(table, find)
    }
    return find.get(...Object.values(key)) as Cells | undefined
  }

  without(told: ReadonlyMap<string, unknown>): AsLogged['unlogged'] {
    return [...this.#tables].flatMap((name) => {
      const table = name as ChangeableTable
      const unlogged: { table: ChangeableTable; key: Cells; row: Cells }[] = []
      for (const row of this.#file.prepare(`select * from "${table}"`).iterate() as Iterable<Cells>) {
        const key = keyOf(table, row)
        if (!told.has(nameOf(table, key))) unlogged.push({ table, key, row })
      }
      return unlogged
    })
  }
}
