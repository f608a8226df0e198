import { rmSync } from 'node:fs'
import SqliteFile from 'better-sqlite3'
import { Kysely } from 'kysely'
import type { Migration } from 'kysely/migration'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { migrations as ourMigrations } from '../../migrations/index.ts'
import { prepared } from '../connection.ts'
import { danglingReferences } from '../damaged-rows.ts'
import { migrate } from '../migrate.ts'
import { recordRowsFound } from '../rows-found.ts'
import type { Database } from '../schema.ts'
import { ShopDialect } from '../shop-dialect.ts'
import { FORMAT, formOf, tablesIn, type Cell, type Tables, type WholeShop } from './form.ts'
import { checksumOfTables } from './write.ts'

/**
 * Makes a shop's file at `path` out of the text that `writeWholeShop` gave, of this version or an earlier one, and brings it to this
 * version. Where it is refused nothing is left at `path`.
 *
 * Problems: `import-foreign`, `import-newer`, `import-damaged`, each with what would do.
 */
export async function bringIn(
  text: string,
  path: string,
  migrations: Readonly<Record<string, Migration>> = ourMigrations,
): Promise<Result<null>> {
  const head = headOf(text, Object.keys(migrations))
  if (!head.ok) return head
  discard(path)
  const file = prepared(new SqliteFile(path))
  const db = new Kysely<Database>({ dialect: new ShopDialect(file) })
  let done: Result<null> | null = null
  try {
    const then = Object.fromEntries(Object.entries(migrations).filter(([name]) => head.value.migrations.includes(name)))
    done = await filled(file, db, head.value, then, migrations)
    file.pragma('wal_checkpoint(truncate)')
  } finally {
    await db.destroy()
    if (done?.ok !== true) discard(path)
  }
  return done
}

async function filled(
  file: SqliteFile.Database,
  db: Kysely<Database>,
  read: Readonly<Record<string, unknown>>,
  then: Readonly<Record<string, Migration>>,
  now: Readonly<Record<string, Migration>>,
): Promise<Result<null>> {
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
    if (!(error instanceof SqliteFile.SqliteError) || !error.code.startsWith('SQLITE_CONSTRAINT')) throw error
    return damaged(error.message)
  }
  const [dangling] = danglingReferences(file)
  if (dangling !== undefined) return damaged(dangling)
  const ready = await migrate(db, file, now)
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
    for (const row of rows)
      insert.run(columns.map(({ name: column, type }) => bound(row[column] ?? null, type === 'BLOB')))
  }
}

const bound = (cell: Cell, isBytes: boolean): Cell | Buffer =>
  isBytes && typeof cell === 'string' ? Buffer.from(cell, 'base64') : cell

/** What the file says of itself, before anything else of it is looked at. */
function headOf(
  text: string,
  known: readonly string[],
): Result<Readonly<Record<string, unknown>> & { readonly migrations: readonly string[] }> {
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

function discard(path: string): void {
  for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(path + ending, { force: true })
}
