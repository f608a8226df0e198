import { copyFileSync, existsSync, rmSync } from 'node:fs'
import SqliteFile from 'better-sqlite3'
import { Kysely } from 'kysely'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { prepared } from './connection.ts'
import { checksumOf } from './log-chain.ts'
import { migrate } from './migrate.ts'
import { type ReadTable, readableRows, tolerated } from './readable-rows.ts'
import { LossList } from './rescue-losses.ts'
import { recordRowsFound } from './rows-found.ts'
import type { Database } from './schema.ts'
import type { LogTable } from './order-tables.ts'
import { ShopDialect } from './shop-dialect.ts'
import { tablesIn, type Column, type Tables } from './whole-shop/form.ts'

/** What came out of a damaged file. */
export interface Rescued {
  readonly orders: number
  readonly rows: number
  /** What could not be read or stands alone without it, as lines for people; empty: everything was read. */
  readonly lost: readonly string[]
}

/**
 * Puts whatever can be read of a damaged file into a new one at `into`, of this version, in which everything fits together. The
 * damaged file is copied first and never written to. An order whose customer cannot be read stays, its name marked as lost.
 *
 * Problem: `nothing-rescued` (no order book can be recognized, or none of its orders read); nothing is left at `into` then.
 */
export async function rescue(path: string, into: string): Promise<Result<Rescued>> {
  const copy = `${into}-reading`
  discard(copy)
  discard(into)
  let done: Result<Rescued> | null = null
  try {
    copyFileSync(path, copy)
    if (existsSync(`${path}-wal`)) copyFileSync(`${path}-wal`, `${copy}-wal`)
    done = await readInto(copy, into)
    return done
  } finally {
    discard(copy)
    if (done?.ok !== true) discard(into)
  }
}

async function readInto(copy: string, into: string): Promise<Result<Rescued>> {
  let old: SqliteFile.Database | undefined
  const file = prepared(new SqliteFile(into))
  const db = new Kysely<Database>({ dialect: new ShopDialect(file) })
  try {
    const isOpen = tolerated(() => {
      old = new SqliteFile(copy)
      // A definition that makes no sense must not keep the others from being read.
      old.unsafeMode(true)
      old.pragma('writable_schema = on')
      old.pragma('trusted_schema = off')
      old.pragma('cell_size_check = on')
      old.prepare('select count(*) from sqlite_schema').get()
    })
    if (!isOpen || old === undefined) return nothing
    const begun = await migrate(db, file, migrationsOf(old))
    if (!begun.ok) return begun
    const tables = await tablesIn(db)
    const losses = new LossList()
    const rows = fill(file, old, tables, losses)
    const orders = file.prepare('select count(*) from commission').pluck().get() as number
    if (orders === 0 && rows === 0) return nothing
    const ready = await migrate(db, file, ourMigrations)
    if (!ready.ok) return ready
    await db.transaction().execute((trx) => recordRowsFound(trx, file, new Set()))
    file.pragma('wal_checkpoint(truncate)')
    return ok({ orders, rows, lost: losses.lines() })
  } finally {
    old?.close()
    await db.destroy()
  }
}

const nothing = failed(
  problem('nothing-rescued', 'Nothing of an order book can be read in this file: open a copy, or begin an empty one.'),
)

/** The migrations that the damaged file went through; all of ours where it does not say. */
function migrationsOf(old: SqliteFile.Database): typeof ourMigrations {
  let names: unknown[] = []
  tolerated(() => {
    names = old.prepare('select name from kysely_migration').pluck().all()
  })
  const known = Object.keys(ourMigrations)
  const last = Math.max(-1, ...names.map((name) => known.indexOf(String(name))))
  return last < 0 ? ourMigrations : Object.fromEntries(Object.entries(ourMigrations).slice(0, last + 1))
}

/** How many rows were read. */
function fill(file: SqliteFile.Database, old: SqliteFile.Database, tables: Tables, losses: LossList): number {
  let count = 0
  file.transaction(() => {
    const guards = withoutGuards(file)
    for (const [name, columns] of tables) {
      const read = readTable(old, name)
      losses.unreadable(name, read)
      count += insertRows(file, name, columns, read, losses)
    }
    losses.nameOrders(file)
    addLostCustomers(file, tables.get('customer') ?? [], losses)
    dropWhatStandsAlone(file, losses)
    if (tables.get('log')?.some(({ name }) => name === 'checksum')) chainAgain(file)
    for (const guard of guards) file.exec(guard)
  })()
  return count
}

function readTable(old: SqliteFile.Database, name: string): ReadTable {
  const there = old.prepare(`select 1 from sqlite_schema where type = 'table' and name = ?`)
  let isThere = false
  const isRead = tolerated(() => {
    isThere = there.get(name) !== undefined
  })
  return isRead && isThere ? readableRows(old, name) : { rows: [], unreadable: 0, isWhole: false }
}

/** The log refuses to be changed: its guards are taken away until it is filled. Gives back how they are made again. */
function withoutGuards(file: SqliteFile.Database): string[] {
  const guards = file.prepare(`select name, sql from sqlite_schema where type = 'trigger'`).all() as {
    name: string
    sql: string
  }[]
  for (const { name } of guards) file.exec(`drop trigger "${name}"`)
  return guards.map(({ sql }) => sql)
}

function insertRows(
  file: SqliteFile.Database,
  table: string,
  columns: readonly Column[],
  { rows }: ReadTable,
  losses: LossList,
): number {
  // What a migration put into an empty file makes room for what was read.
  if (rows.length > 0) file.prepare(`delete from "${table}"`).run()
  const names = columns.map(({ name }) => name)
  const insert = file.prepare(
    `insert into "${table}" (${names.map((name) => `"${name}"`).join(', ')}) values (${names.map(() => '?').join(', ')})`,
  )
  let count = 0
  for (const row of rows) {
    // Half a value, a value of another kind, the same number twice.
    if (tolerated(() => insert.run(names.map((name) => row[name] ?? null)))) count += 1
    else losses.row(table, row)
  }
  return count
}

function addLostCustomers(file: SqliteFile.Database, columns: readonly Column[], losses: LossList): void {
  const ids = file
    .prepare('select distinct customer_id from commission where customer_id not in (select id from customer)')
    .pluck()
    .all() as string[]
  const known: Readonly<Record<string, string>> = { name: '(name lost)', child_under_3: 'not-asked' }
  const insert = file.prepare(
    `insert into customer (${columns.map(({ name }) => `"${name}"`).join(', ')}) values (${columns.map(() => '?').join(', ')})`,
  )
  for (const id of ids) {
    insert.run(
      columns.map(({ name, type, canBeNull }) =>
        name === 'id' ? id : (known[name] ?? (canBeNull ? null : type === 'TEXT' ? '' : 0)),
      ),
    )
    losses.customerOf(file, id)
  }
}

/** A step without its piece, a payment without its order: taken out until everything refers to something that is there. */
function dropWhatStandsAlone(file: SqliteFile.Database, losses: LossList): void {
  for (;;) {
    const dangling = file.pragma('foreign_key_check') as { table: string; rowid: number }[]
    if (dangling.length === 0) return
    const seen = new Set<string>()
    for (const { table, rowid } of dangling) {
      if (seen.has(`${table} ${rowid}`)) continue
      seen.add(`${table} ${rowid}`)
      const row = file.prepare(`select * from "${table}" where rowid = ?`).get(rowid) as Record<string, unknown>
      losses.row(table, row)
      file.prepare(`delete from "${table}" where rowid = ?`).run(rowid)
    }
  }
}

/** What is left of the log is chained anew: that entries are missing is told in the list of what was lost. */
function chainAgain(file: SqliteFile.Database): void {
  const update = file.prepare('update log set checksum = ? where id = ?')
  let before: string | null = null
  const entries = file.prepare('select * from log order by id').all() as (Omit<LogTable, 'id'> & { id: number })[]
  for (const { id, checksum, ...entry } of entries) {
    if (checksum === null && before === null) continue
    before = checksumOf(entry, before)
    update.run(before, id)
  }
}

function discard(path: string): void {
  for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(path + ending, { force: true })
}
