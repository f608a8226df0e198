import { mkdirSync } from 'node:fs'
import { dirname } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { Kysely, SqliteAdapter, SqliteDialect } from 'kysely'
import type { Migration } from 'kysely/migration'
import { failed, ok, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { type Backup, listBackups, makeBackup, namedBackups } from './backup.ts'
import type { BackupReason } from './backup-thinning.ts'
import { APPLICATION_ID, examineFile } from './examine-file.ts'
import { migrate } from './migrate.ts'
import { whyNotOpened } from './refusals.ts'
import { finishRestoring } from './restore.ts'
import type { Database } from './schema.ts'

export interface ShopFile {
  readonly path: string
  readonly db: Kysely<Database>
  /** `new`: made just now; `upgraded`: brought to this version just now, the backup from before is kept. */
  readonly opened: 'new' | 'as-it-was' | 'upgraded'
  /** Copies everything committed so far while work goes on. */
  backUp(reason: BackupReason): Promise<Backup>
  close(): Promise<void>
}

export interface OpenOptions {
  /** What time it is, in milliseconds since the Unix epoch: dates backups and checks. */
  readonly clockMs: () => number
  /** Begin an empty shop although backups of an earlier one are there. */
  readonly startNew?: boolean
  /** Other than this version's own: for tests. */
  readonly migrations?: Readonly<Record<string, Migration>>
}

const DAY_MS = 24 * 60 * 60 * 1000
/** A little less than a day, so that opening the shop every evening backs it up every evening. */
const DAILY_MS = 20 * 60 * 60 * 1000

/**
 * Opens a shop's file, makes it when missing, brings it to this version. A file that is damaged, newer than this version or
 * not ours is refused and not written to. Once a day a backup is made, once a week the whole file is checked, and before
 * an upgrade there is always a backup. The caller holds the folder's lock.
 *
 * Problems: `file-damaged`, `file-newer`, `file-foreign`, `file-gone` (missing, yet there are backups), `upgrade-failed`
 * (the file is as it was). Each says what was found and which backups there are.
 */
export async function openShopFile(path: string, options: OpenOptions): Promise<Result<ShopFile>> {
  const { clockMs, migrations = ourMigrations } = options
  const known = Object.keys(migrations)
  mkdirSync(dirname(path), { recursive: true })
  finishRestoring(path)

  const weekAgoMs = clockMs() - 7 * DAY_MS
  let wholeCheckDue = true
  const found = examineFile(path, known, (lastMs) => {
    wholeCheckDue = lastMs === null || lastMs <= weekAgoMs
    return wholeCheckDue ? 'whole' : 'quick'
  })
  const refusal = whyNotOpened(path, found, options.startNew ? [] : listBackups(path, known))
  if (refusal !== null) return failed(refusal)

  const file = connect(path)
  const db = new Kysely<Database>({ dialect: new ShopDialect({ database: file }) })
  try {
    const pending = found.kind === 'sound' && found.migrations.length < known.length
    if (pending) await makeBackup(file, 'before-upgrade', clockMs(), known)
    const upgrade = await migrate(db, file, migrations)
    if (!upgrade.ok) {
      await db.destroy()
      return upgrade
    }
    file.pragma('foreign_keys = on')
    if (found.kind === 'sound' && !pending) await backUpDaily(file, clockMs(), known)
    if (found.kind === 'sound' && wholeCheckDue) await noteWholeCheck(db, clockMs())
    return ok({
      path,
      db,
      opened: found.kind !== 'sound' ? 'new' : pending ? 'upgraded' : 'as-it-was',
      backUp: (reason) => makeBackup(file, reason, clockMs(), known),
      close: async () => {
        file.pragma('optimize')
        await db.destroy()
      },
    })
  } catch (error) {
    await db.destroy()
    throw error
  }
}

function connect(path: string): SqliteFile.Database {
  const file = new SqliteFile(path, { timeout: 5000 })
  file.pragma('journal_mode = wal')
  // The build's own default for write-ahead mode may lose the last commits in a power cut.
  file.pragma('synchronous = full')
  file.pragma('fullfsync = on')
  file.pragma('checkpoint_fullfsync = on')
  file.pragma('trusted_schema = off')
  // Cannot be changed inside a transaction, and must be off while migrations rebuild tables.
  file.pragma('foreign_keys = off')
  if (file.pragma('application_id', { simple: true }) !== APPLICATION_ID)
    file.pragma(`application_id = ${APPLICATION_ID}`)
  return file
}

/** SQLite rolls changes of tables back like any other; saying so makes all pending migrations one transaction. */
class ShopDialect extends SqliteDialect {
  override createAdapter(): SqliteAdapter {
    return new TransactionalAdapter()
  }
}

class TransactionalAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true
  }
}

async function backUpDaily(file: SqliteFile.Database, nowMs: number, known: string[]): Promise<void> {
  const [newest] = namedBackups(file.name)
  // A clock that was put back must not stop the backups.
  const fresh = newest !== undefined && Math.abs(nowMs - newest.madeAtMs) < DAILY_MS
  if (!fresh) await makeBackup(file, 'daily', nowMs, known)
}

const noteWholeCheck = (db: Kysely<Database>, atMs: number) =>
  db
    .insertInto('upkeep')
    .values({ task: 'whole-check', done_at_ms: atMs })
    .onConflict((conflict) => conflict.column('task').doUpdateSet({ done_at_ms: atMs }))
    .execute()
