import type SqliteFile from 'better-sqlite3'
import { brokenEntries } from './log-chain.ts'
import { type FoundRow, record } from './log.ts'
import { digestOf } from './row-digest.ts'
import { compareWithLog, type Misfit } from './rows-as-logged.ts'
import type { Db } from './schema.ts'
import { noteTableDefinitions } from './table-definitions.ts'

/** Whether the rows of a file can be compared with its log: not in one that a version wrote that changed rows without an entry. */
export const canBeCompared = (file: SqliteFile.Database): boolean =>
  file.prepare(`select 1 from pragma_table_info('promise') where name = 'digest'`).get() !== undefined

/** Names of the cells that are damaged already: taking in what is found must not make them good. */
export const damagedCells = (file: SqliteFile.Database): ReadonlySet<string> =>
  canBeCompared(file) ? new Set(compared(file).misfits.map(nameOf)) : new Set()

/**
 * Takes into the log what a change of the tables, a rescue or another program did to rows, so that they agree with it from here on.
 * @param apart names of cells that stay damaged
 */
export async function recordRowsFound(trx: Db, file: SqliteFile.Database, apart: ReadonlySet<string>): Promise<void> {
  noteTableDefinitions(file)
  fillDigests(file)
  const { misfits, unlogged } = compared(file)
  const rows: FoundRow[] = [
    ...unlogged.map(({ table, key, row }) => ({ table, key, cells: row })),
    ...misfits
      .filter((misfit) => !apart.has(nameOf(misfit)))
      .map(({ table, key, column, is }) => ({
        ...{ table, key },
        cells: column !== null ? { [column]: is } : is === 0 ? null : {},
      })),
  ]
  if (rows.length === 0) return
  const atMs = file.prepare('select coalesce(max(at_ms), 0) from log').pluck().get() as number
  await record(trx, { atMs, makerId: null, action: 'rows-found', event: { kind: 'found', rows } })
}

const compared = (file: SqliteFile.Database) => compareWithLog(file, new Set(brokenEntries(file)))

const nameOf = ({ table, key, column }: Misfit): string => JSON.stringify([table, key, column])

/** Rows from before there were digests get one as they are now. */
function fillDigests(file: SqliteFile.Database): void {
  // Papers and promises are changed only while a row stands there.
  file.exec('insert into erasing values (0)')
  for (const table of ['erasure', 'notice_shown', 'paper', 'photo', 'promise', 'running_number'] as const) {
    const one = file.prepare(`select * from "${table}" where rowid = ?`)
    const set = file.prepare(`update "${table}" set digest = ? where rowid = ?`)
    for (const rowid of file.prepare(`select rowid from "${table}" where digest is null`).pluck().all())
      set.run(digestOf(table, one.get(rowid) as object), rowid)
  }
  file.exec('delete from erasing')
}
