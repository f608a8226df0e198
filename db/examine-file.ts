import { existsSync, rmSync, statSync } from 'node:fs'
import SqliteFile from 'better-sqlite3'
import { damagedRows } from './damaged-rows.ts'

/** Marks a file as ours, in SQLite's header field for it ("OoC1"). */
export const APPLICATION_ID = 0x4f6f4331

/** What a file turned out to be, found out without writing to it. */
export type Examination =
  | { readonly kind: 'missing' }
  /** Holds nothing yet: left behind when the very first start was cut off. */
  | { readonly kind: 'empty' }
  | SoundFile
  /** Written by a version that knows migrations we don't. */
  | { readonly kind: 'newer'; readonly unknown: readonly string[] }
  | { readonly kind: 'foreign' }
  | { readonly kind: 'damaged'; readonly findings: readonly string[] }
  /** The system would not let us read it: locked, no permission, a folder. */
  | { readonly kind: 'unreadable'; readonly why: string }

/** What an error of SQLite makes of a file. */
export type FileTrouble = Extract<Examination, { readonly kind: 'unreadable' | 'damaged' }>

export interface SoundFile {
  readonly kind: 'sound'
  /** Migrations that it went through, in order. */
  readonly migrations: readonly string[]
  readonly commissions: number
  /** When all of it was last checked, indexes included; null: never. */
  readonly wholeCheckAtMs: number | null
  /** Damage inside the text of fields, as sentences; looked for in a whole check only. */
  readonly damagedRows: readonly string[]
}

/** `glance`: what it is, unchecked; `quick`: everything but the agreement of indexes with their tables; `whole`: that too. */
export type Depth = 'glance' | 'quick' | 'whole'

/**
 * The same in another process, for a large file: whoever waits for an answer of the desk does not wait for that. Null: it was told to stop.
 */
export type ExamineElsewhere = (
  path: string,
  known: readonly string[],
  depth: 'quick' | 'whole',
  signal: AbortSignal,
) => Promise<Examination | null>

/** From here on looking through a file takes longer than anybody should wait: a fresh book has under one megabyte, one of a year forty. */
const LARGE_BYTES = 8_000_000

export const isLargeFile = (path: string): boolean =>
  (statSync(path, { throwIfNoEntry: false })?.size ?? 0) > LARGE_BYTES

/**
 * Looks at a shop's file through a read-only connection.
 *
 * @param known names of the migrations that this version knows
 * @param depth how thoroughly; a function decides once it is known when the last whole check was
 */
export function examineFile(
  path: string,
  known: readonly string[],
  depth: Depth | ((wholeCheckAtMs: number | null) => Depth) = 'quick',
): Examination {
  const state = statSync(path, { throwIfNoEntry: false })
  if (state === undefined) return { kind: 'missing' }
  if (state.size === 0 && !existsSync(`${path}-wal`)) return { kind: 'empty' }
  return leavingNoTrace(path, () => {
    let file: SqliteFile.Database | undefined
    try {
      file = new SqliteFile(path, { readonly: true, fileMustExist: true, timeout: 5000 })
      file.pragma('trusted_schema = off')
      file.pragma('cell_size_check = on')
      return look(file, known, depth)
    } catch (error) {
      return whatFailed(error)
    } finally {
      file?.close()
    }
  })
}

/** What an error of SQLite says about the file that it met with. @throws any other error */
export function whatFailed(error: unknown): FileTrouble {
  if (!(error instanceof SqliteFile.SqliteError)) throw error
  return SYSTEM_REFUSED.test(error.code)
    ? { kind: 'unreadable', why: error.message }
    : { kind: 'damaged', findings: [error.message] }
}

const SYSTEM_REFUSED = /^SQLITE_(FULL|BUSY|LOCKED|CANTOPEN|PERM|AUTH|READONLY|IOERR|NOMEM|PROTOCOL)/

function look(
  file: SqliteFile.Database,
  known: readonly string[],
  depth: Depth | ((wholeCheckAtMs: number | null) => Depth),
): Examination {
  const tables = new Set(file.prepare(`select name from sqlite_schema where type = 'table'`).pluck().all() as string[])
  if (tables.size === 0) return { kind: 'empty' }
  if (file.pragma('application_id', { simple: true }) !== APPLICATION_ID) return { kind: 'foreign' }

  const wholeCheckAtMs = tables.has('upkeep')
    ? ((file.prepare(`select done_at_ms from upkeep where task = 'whole-check'`).pluck().get() as number | undefined) ??
      null)
    : null
  const wanted = typeof depth === 'function' ? depth(wholeCheckAtMs) : depth
  const findings = check(file, wanted)
  if (findings.length > 0) return { kind: 'damaged', findings }

  const migrations = tables.has('kysely_migration')
    ? (file.prepare('select name from kysely_migration order by name').pluck().all() as string[])
    : []
  const unknown = migrations.filter((name) => !known.includes(name))
  if (unknown.length > 0) return { kind: 'newer', unknown }
  if (migrations.length === 0) return { kind: 'empty' }
  const commissions = file.prepare('select count(*) from commission').pluck().get() as number
  return {
    kind: 'sound',
    migrations,
    commissions,
    wholeCheckAtMs,
    damagedRows: wanted === 'whole' ? damagedRows(file) : [],
  }
}

function check(file: SqliteFile.Database, depth: Depth): string[] {
  if (depth === 'glance') return []
  const pragma = depth === 'whole' ? 'pragma integrity_check(20)' : 'pragma quick_check(20)'
  return (file.prepare(pragma).pluck().all() as string[]).filter((finding) => finding !== 'ok')
}

/** Reading a file in write-ahead mode puts two files beside it that a read-only connection can't take away again. */
export function leavingNoTrace<T>(path: string, work: () => T): T {
  const beside = [`${path}-wal`, `${path}-shm`].filter((name) => !existsSync(name))
  try {
    return work()
  } finally {
    for (const name of beside) rmSync(name, { force: true })
  }
}
