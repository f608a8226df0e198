import SqliteFile from 'better-sqlite3'

export type Row = Readonly<Record<string, unknown>>

/** A table of a damaged file as far as it can be read. */
export interface ReadTable {
  readonly rows: readonly Row[]
  /** Rows that stand where nothing can be read; their count is not sure, as what is there is not known. */
  readonly unreadable: number
  /** Whether something is missing at all, also where nobody can say how much. */
  readonly isWhole: boolean
}

/** Rows of more than this between two readable ones are not looked for one by one. */
const MOST_PROBED = 20_000
/** Looked for beyond the last row that was read, where the end cannot be reached from behind. */
const BEYOND = 5_000

/**
 * Reads a table from its beginning to the first damage, from its end to the last, and what lies between row by row: damage to a
 * page takes only the rows of that page.
 * @param file a connection to a copy that nobody else uses
 */
export function readableRows(file: SqliteFile.Database, table: string): ReadTable {
  const first = readAlong(file, table, 'asc', null)
  if (first.complete) return { rows: first.rows.map(withoutRowid), unreadable: 0, isWhole: true }
  const lastBefore = numberOf(first.rows.at(-1)) ?? 0
  const last = readAlong(file, table, 'desc', lastBefore)
  const firstAfter = numberOf(last.rows.at(-1)) ?? lastBefore + BEYOND + 1
  const between = probe(file, table, lastBefore + 1, Math.min(firstAfter - 1, lastBefore + MOST_PROBED))
  const rows = [...first.rows, ...between.rows, ...last.rows.reverse()]
  return { rows: rows.map(withoutRowid), unreadable: between.refused, isWhole: false }
}

interface Along {
  readonly rows: Row[]
  readonly complete: boolean
}

function readAlong(file: SqliteFile.Database, table: string, order: 'asc' | 'desc', after: number | null): Along {
  const rows: Row[] = []
  const where = after === null ? '' : `where rowid > ${after}`
  const done = tolerated(() => {
    const all = file.prepare(
      `select rowid as ${NUMBER}, * from "${table}" not indexed ${where} order by rowid ${order}`,
    )
    for (const row of all.iterate() as Iterable<Row>) rows.push(row)
  })
  return { rows, complete: done }
}

function probe(file: SqliteFile.Database, table: string, from: number, to: number): { rows: Row[]; refused: number } {
  const rows: Row[] = []
  let refused = 0
  tolerated(() => {
    const one = file.prepare(`select rowid as ${NUMBER}, * from "${table}" not indexed where rowid = ?`)
    for (let rowid = from; rowid <= to; rowid++) {
      const read = tolerated(() => {
        const row = one.get(rowid) as Row | undefined
        if (row !== undefined) rows.push(row)
      })
      if (!read) refused += 1
    }
  })
  return { rows, refused }
}

/** False: SQLite met damage. @throws what is not SQLite's */
export function tolerated(work: () => void): boolean {
  try {
    work()
    return true
  } catch (error) {
    if (!(error instanceof SqliteFile.SqliteError)) throw error
    return false
  }
}

const NUMBER = '__number'

const numberOf = (row: Row | undefined): number | undefined => row?.[NUMBER] as number | undefined

const withoutRowid = ({ [NUMBER]: _, ...row }: Row): Row => row
