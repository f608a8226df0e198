import { existsSync, mkdirSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import { dirname } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { Kysely } from 'kysely'
import type { Migration } from 'kysely/migration'
import { failed, ok, type Problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { type Backup, backupFolder, listBackups } from './backup.ts'
import { keepBackups } from './backup-keeping.ts'
import { isSystemError } from './durable-files.ts'
import type { BackupReason } from './backup-thinning.ts'
import {
  APPLICATION_ID,
  type ExamineElsewhere,
  examineFile,
  type FileTrouble,
  isLargeFile,
  whatFailed,
} from './examine-file.ts'
import { lookingThrough } from './look-through.ts'
import { watchPlace } from './place-of-file.ts'
import { isWipeDue, wipe } from './wipe-remains.ts'
import { migrate } from './migrate.ts'
import { whyClosed, whyNotOpened } from './refusals.ts'
import { finishRestoring } from './restore.ts'
import type { Database } from './schema.ts'
import { ShopDialect } from './shop-dialect.ts'

export interface ShopFile {
  readonly path: string
  readonly db: Kysely<Database>
  /** `new`: made just now; `upgraded`: brought to this version just now, the backup from before is kept. */
  readonly opened: 'new' | 'as-it-was' | 'upgraded'
  /**
   * Makes the check that was put off when it was opened, while work goes on: see `OpenOptions.examineElsewhere`. What it finds is the
   * problem for which the file would not have been opened (`file-damaged`, ...); null: nothing, or it is being closed.
   * @param depth other than what was put off
   */
  lookBehind(depth?: 'whole'): Promise<Problem | null>
  /** True once after a backup came out damaged: this file is to be looked through. */
  takeDoubt(): boolean
  /**
   * What goes wrong although the file is open: `backup-failed` for as long as the last backup could not be made, `file-moved` once
   * another file or none lies in its place.
   */
  warnings(): readonly Problem[]
  /** Copies everything committed so far while work goes on, one copy after the other. */
  backUp(reason: BackupReason): Promise<Result<Backup>>
  /** Makes the daily backup when its time has come: to be called every few seconds for as long as the file is open. */
  backUpWhenDue(): Promise<Result<Backup | null>>
  /**
   * Writes the whole file anew, so that nothing removed is left between its rows or in its write-ahead log. False: there was no room
   * on the disk; it is tried again when the file is opened next.
   */
  wipeRemains(): Promise<boolean>
  /** Ends what is being looked through: nobody shall wait for it who waits for the end of the work that waits for it. */
  stopLooking(): void
  /** Waits for a backup that is under way, and makes one of what no backup has yet. */
  close(): Promise<void>
}

export interface OpenOptions {
  /** What time it is, in milliseconds since the Unix epoch: dates backups and checks. */
  readonly clockMs: () => number
  /**
   * Looks through a large file in another process. One that was closed in good order is then looked through once it is open
   * (`lookBehind`), and one that was not, before.
   */
  readonly examineElsewhere?: ExamineElsewhere | undefined
  /** Look through it before it is opened, however large it is: it was found to be damaged. */
  readonly lookFirst?: boolean
  /** Begin an empty shop where the file is missing, although there was one before. */
  readonly startNew?: boolean
  /** Other than this version's own: for tests. */
  readonly migrations?: Readonly<Record<string, Migration>>
}

const DAY_MS = 24 * 60 * 60 * 1000

/**
 * Opens a shop's file, makes it when missing, brings it to this version. A file that is damaged, newer than this version or
 * not ours is refused and not written to. A backup is made once a day while it is
 * open, at its end when something was changed, and always before an upgrade; once a week the whole file is checked. The caller holds the folder's lock.
 *
 * Problems: `file-damaged`, `file-newer`, `file-foreign`, `file-unreadable`, `file-gone` (missing, yet there are backups), each
 * with what was found and which backups there are; `upgrade-failed`, `backup-failed` (no upgrade without a backup), after
 * which the file is as it was.
 */
export async function openShopFile(path: string, options: OpenOptions): Promise<Result<ShopFile>> {
  const { clockMs, migrations = ourMigrations } = options
  const known = Object.keys(migrations)
  mkdirSync(dirname(path), { recursive: true })
  finishRestoring(path, known)

  const isLarge = options.examineElsewhere !== undefined && isLargeFile(path)
  // SQLite takes its write-ahead log away when a file is closed: where there is one, nobody came to close it.
  const canWait = isLarge && options.lookFirst !== true && !existsSync(`${path}-wal`)
  let wholeCheckDue = true
  const found = examineFile(path, known, (lastMs) => {
    // A check that was noted while the clock was ahead must not put off the next ones.
    wholeCheckDue = lastMs === null || Math.abs(clockMs() - lastMs) >= 7 * DAY_MS
    if (canWait) return 'glance'
    return wholeCheckDue && !isLarge ? 'whole' : 'quick'
  })
  const putOff = !isLarge || !(canWait || wholeCheckDue) ? null : wholeCheckDue ? 'whole' : 'quick'
  const others = { list: () => listBackups(path, known), nowMs: clockMs() }
  const isGone = found.kind === 'missing' || found.kind === 'empty'
  const refusal = isGone && options.startNew ? null : whyNotOpened(path, found, others)
  if (refusal !== null) return failed(refusal)

  const connected = connect(path)
  if ('kind' in connected) return failed(whyNotOpened(path, connected, others))
  const file = connected
  const db = new Kysely<Database>({ dialect: new ShopDialect(file) })
  const ending = new AbortController()
  const lookThrough = lookingThrough(known, options.examineElsewhere, ending.signal)
  const backups = keepBackups(file, clockMs, { known, lookThrough })
  const close = async () => {
    ending.abort()
    await backups.runAtClose()
    try {
      if (file.open) file.pragma('optimize')
    } catch (error) {
      // A file that broke while it was open is closed all the same.
      if (!isSystemError(error)) throw error
    } finally {
      await db.destroy()
    }
  }
  try {
    const pending = found.kind === 'sound' && found.migrations.length < known.length
    const upgrade = await bringUpToDate()
    if (!upgrade.ok) {
      await close()
      return upgrade
    }
    file.pragma('foreign_keys = on')
    if (found.kind === 'sound' && wholeCheckDue && putOff === null) await noteWholeCheck(db, clockMs())
    const opened = found.kind !== 'sound' ? 'new' : pending ? 'upgraded' : 'as-it-was'
    if (opened === 'new') await mkdir(backupFolder(path), { recursive: true }).catch(() => undefined)
    backups.begin(opened === 'new' ? 'new' : 'there-before', found.kind === 'sound' ? found.damagedRows : [])
    // Copying a large file and looking through that takes longer than whoever starts should wait: it is due with the next look.
    if (!isLarge) await backups.runWhenDue()
    const { run: backUp } = backups
    const place = watchPlace(path)
    const warnings = () => [...place.warnings(), ...backups.warnings()]
    const backUpWhenDue = async () => {
      if (!place.look()) return backups.runWhenDue()
      // Only what is open here still has it: every change is copied at once.
      await backups.runAtClose()
      return ok(null)
    }
    const wipeRemains = async () => {
      await backups.finished()
      return wipe(file)
    }
    const lookBehind = async (depth: 'quick' | 'whole' | null = putOff): Promise<Problem | null> => {
      if (depth === null) return null
      const looked = await backups.inTurn(() => lookThrough(path, depth))
      if (looked === null) return null
      if (looked.kind !== 'sound') return looked.kind === 'damaged' ? whyClosed(path, looked, others) : null
      if (depth === 'whole') {
        backups.tellDamaged(looked.damagedRows)
        await noteWholeCheck(db, clockMs())
      }
      return null
    }
    if (isWipeDue(file)) await wipeRemains()
    const stopLooking = () => ending.abort()
    const { takeDoubt } = backups
    return ok({
      path,
      db,
      opened,
      lookBehind,
      takeDoubt,
      stopLooking,
      warnings,
      backUp,
      backUpWhenDue,
      wipeRemains,
      close,
    })

    async function bringUpToDate(): Promise<Result<unknown>> {
      const backup = pending ? await backups.run('before-upgrade') : ok(null)
      return backup.ok ? migrate(db, file, migrations) : backup
    }
  } catch (error) {
    await close()
    throw error
  }
}

/** Damage to the text of the tables' definitions may show only here: reading alone does not look at all of them. */
function connect(path: string): SqliteFile.Database | FileTrouble {
  const file = new SqliteFile(path, { timeout: 5000 })
  try {
    return prepared(file)
  } catch (error) {
    file.close()
    return whatFailed(error)
  }
}

/** Sets a connection up as every writing one of a shop is. */
export function prepared(file: SqliteFile.Database): SqliteFile.Database {
  file.pragma('journal_mode = wal')
  // The build's own default for write-ahead mode may lose the last commits in a power cut.
  file.pragma('synchronous = full')
  file.pragma('fullfsync = on')
  file.pragma('checkpoint_fullfsync = on')
  file.pragma('trusted_schema = off')
  file.pragma('cell_size_check = on')
  // What was removed is overwritten, not only forgotten: a person may have asked for it.
  file.pragma('secure_delete = on')
  // Reading must not need room on a disk that is full.
  file.pragma('temp_store = memory')
  // Cannot be changed inside a transaction, and must be off while migrations rebuild tables.
  file.pragma('foreign_keys = off')
  if (file.pragma('application_id', { simple: true }) !== APPLICATION_ID)
    file.pragma(`application_id = ${APPLICATION_ID}`)
  return file
}

const noteWholeCheck = (db: Kysely<Database>, atMs: number) =>
  db
    .insertInto('upkeep')
    .values({ task: 'whole-check', done_at_ms: atMs })
    .onConflict((conflict) => conflict.column('task').doUpdateSet({ done_at_ms: atMs }))
    .execute()
