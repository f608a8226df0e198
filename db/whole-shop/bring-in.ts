import { rmSync } from 'node:fs'
import SqliteFile from 'better-sqlite3'
import { Kysely } from 'kysely'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { migrations as ourMigrations } from '../../migrations/index.ts'
import { prepared } from '../connection.ts'
import { danglingReferences } from '../damaged-rows.ts'
import { migrate } from '../migrate.ts'
import { recordRowsFound } from '../rows-found.ts'
import type { Database, Db } from '../schema.ts'
import { ShopDialect } from '../shop-dialect.ts'
import { isConstraintError } from '../transaction.ts'
import { FORMAT, formOf, tablesIn, type Cell, type Tables, type WholeShop } from './form.ts'
import { checksumOfTables } from './write.ts'

/**
 * Makes a shop's file at `path` out of the text that `writeWholeShop` gave, of this version or an earlier one, and brings it to this
 * version. Where it is refused nothing is left at `path`.
 *
 * @param readAll reads what a shop is opened with: what cannot be read is refused here, and not once the present shop has made room
 *
 * Problems: `import-foreign`, `import-newer`, `import-damaged`, each with what would do.
 */
export async function bringIn(
  text: string,
  path: string,
  readAll: (db: Db) => Promise<unknown>,
): Promise<Result<null>> {
  const head = headOf(text, Object.keys(ourMigrations))
  if (!head.ok) return head
  discard(path)
  const file = prepared(new SqliteFile(path))
  const db = new Kysely<Database>({ dialect: new ShopDialect(file) })
  let done: Result<null> | null = null
  try {
    done = await filled(file, db, head.value)
    if (done.ok) done = await tried(() => readAll(db))
    file.pragma('wal_checkpoint(truncate)')
  } finally {
    await db.destroy()
    if (done?.ok !== true) discard(path)
  }
  return done
}

async function filled(file: SqliteFile.Database, db: Kysely<Database>, read: WithMigrations): Promise<Result<null>> {
  const then = Object.fromEntries(Object.entries(ourMigrations).filter(([name]) => read.migrations.includes(name)))
  const begun = await migrate(db, file, then)
  if (!begun.ok) return begun
  const tables = await tablesIn(db)
  const checked = formOf(tables).safeParse(read)
  if (!checked.success) {
    const [issue] = checked.error.issues
    return damaged(`at ${(issue?.path ?? []).map(String).join(' › ')}: ${issue?.message ?? 'it does not fit'}`)
  }
  const shop = checked.data as unknown as WholeShop
  // As it was read: a form may put the columns in another order.
  if (shop.sha256 !== undefined && shop.sha256 !== checksumOfTables(read['tables'] as WholeShop['tables'])) {
    return damaged('what is in it is not what was saved')
  }
  try {
    file.transaction(() => fillTables(file, tables, shop))()
  } catch (error) {
    if (!(error instanceof RowRefused)) throw error
    return damaged(error.message)
  }
  const [dangling] = danglingReferences(file)
  if (dangling !== undefined) return damaged(dangling)
  const ready = await migrate(db, file, ourMigrations)
  if (!ready.ok) return ready
  // Another program may have written rows without a word in the log.
  if (shop.sha256 === undefined) await db.transaction().execute((trx) => recordRowsFound(trx, file, new Set()))
  return ok(null)
}

function fillTables(file: SqliteFile.Database, tables: Tables, shop: WholeShop): void {
  for (const [name, columns] of tables) {
    const rows = shop.tables[name] ?? []
    // What a migration put into an empty file makes room for what was saved.
    if (file.prepare(`select exists (select 1 from "${name}")`).pluck().get() === 1)
      file.prepare(`delete from "${name}"`).run()
    const insert = file.prepare(
      `insert into "${name}" (${columns.map((each) => `"${each.name}"`).join(', ')}) values (${columns.map(() => '?').join(', ')})`,
    )
    for (const [index, row] of rows.entries()) {
      try {
        insert.run(columns.map(({ name: column, type }) => bound(row[column] ?? null, type === 'BLOB')))
      } catch (error) {
        if (!isConstraintError(error)) throw error
        throw new RowRefused(`tables › ${name} › ${index}`, error as Error)
      }
    }
  }
}

/** A row that a table does not take; its message says where it is and what of it cannot be. */
class RowRefused extends Error {
  constructor(place: string, { message }: Error) {
    const [, column] = /json_(?:valid|type)\((\w+)\)/.exec(message) ?? []
    super(
      column === undefined
        ? `at ${place}: ${message}`
        : `at ${place} › ${column}: it is not the JSON that belongs there`,
    )
  }
}

/** @throws what the disk says */
async function tried(reading: () => Promise<unknown>): Promise<Result<null>> {
  try {
    await reading()
    return ok(null)
  } catch (error) {
    if (error instanceof SqliteFile.SqliteError) throw error
    return damaged(
      `its orders or its Almanac cannot be read: ${error instanceof Error ? error.message : String(error)}`,
    )
  }
}

const bound = (cell: Cell, isBytes: boolean): Cell | Buffer =>
  isBytes && typeof cell === 'string' ? Buffer.from(cell, 'base64') : cell

type WithMigrations = Readonly<Record<string, unknown>> & { readonly migrations: readonly string[] }

/** What the file says of itself, before anything else of it is looked at. */
function headOf(text: string, known: readonly string[]): Result<WithMigrations> {
  let read: unknown
  try {
    read = JSON.parse(text.replace(/^\ufeff/, ''))
  } catch {
    return text.includes(`"${FORMAT}"`) ? damaged('it breaks off or is changed') : foreign
  }
  if (typeof read !== 'object' || read === null || !('format' in read) || read.format !== FORMAT) return foreign
  if (!('migrations' in read) || !Array.isArray(read.migrations))
    return damaged('it does not say of which version it is')
  const names = read.migrations as readonly unknown[]
  if (names.some((name) => typeof name !== 'string' || !known.includes(name))) return failed(newer)
  if (names.length === 0 || known.slice(0, names.length).some((name, index) => name !== names[index])) {
    return damaged('it does not say of which version it is')
  }
  return ok({ ...read, migrations: names as readonly string[] })
}

const foreign = failed(
  problem('import-foreign', 'This is no file of a whole shop: choose the .json file that “Everything” saved.', 'file'),
)

const newer = problem(
  'import-newer',
  'A newer version of Out of Clamps saved this file: install that version here first.',
  'file',
)

const damaged = (what: string) =>
  failed(problem('import-damaged', `This file is damaged (${what}): save it again. Nothing was changed here.`, 'file'))

/** Removes a file of the store with all that SQLite puts beside it. */
export function discard(path: string): void {
  for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(path + ending, { force: true })
}
