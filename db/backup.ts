import { type BigIntStats, existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { type BackupReason, worthKeeping } from './backup-thinning.ts'
import { isSystemError, syncFileBeside, syncFolder } from './durable-files.ts'
import { type Examination, examineFile } from './examine-file.ts'
import type { LookThrough } from './look-through.ts'
import { filesSetAside } from './set-aside.ts'
import { atOfStamp, stamp } from './stamp.ts'

export interface Backup {
  /** Its file name: the handle by which it is asked for. */
  readonly name: string
  readonly path: string
  readonly madeAtMs: number
  /** Why it was made; `set-aside`: it was the shop's file until another one took its place. */
  readonly reason: BackupReason | 'set-aside'
  readonly bytes: number
  /** What is in it; `sound` and `newer` and `damaged` matter. */
  readonly found: Examination
}

/** Where the backups of a shop's file are: the folder `backups` beside it. */
export const backupFolder = (path: string): string => join(dirname(path), 'backups')

/**
 * All backups of a shop's file and what was set aside, newest first. Each is only glanced at, without writing to it: it was
 * checked when it was made, and is checked again before it is opened. Other files in the folder are passed over.
 */
export function listBackups(path: string, known = Object.keys(ourMigrations)): Backup[] {
  const before = glanced.get(path)
  const now = new Map<string, Glanced>()
  const listed = copiesOf(path).flatMap((copy) => {
    const state = statSync(copy.path, { throwIfNoEntry: false, bigint: true })
    if (state === undefined) return []
    const seen = glance(copy.path, state, known, before?.get(copy.path))
    // What the system refused it may give the next time.
    if (seen.found.kind !== 'unreadable') now.set(copy.path, seen)
    return [{ ...copy, bytes: Number(state.size), found: seen.found }]
  })
  glanced.set(path, now)
  return listed
}

/** A copy as it was when it was glanced at. */
interface Glanced {
  readonly as: string
  readonly found: Examination
}

/** What is listed of each shop's file: what is thinned out is forgotten. */
const glanced = new Map<string, ReadonlyMap<string, Glanced>>()

/** A copy is not written to any more: each is glanced at once, and again when it is another file than before. */
function glance(
  path: string,
  { ino, size, mtimeNs, ctimeNs }: BigIntStats,
  known: readonly string[],
  before: Glanced | undefined,
): Glanced {
  const as = [ino, size, mtimeNs, ctimeNs, ...known].join()
  return before?.as === as ? before : { as, found: examineFile(path, known, 'glance') }
}

/** The names of the same, without looking into them. */
export const copiesOf = (path: string): Omit<Backup, 'bytes' | 'found'>[] =>
  [...namedBackups(path), ...filesSetAside(path).map((one) => ({ ...one, reason: 'set-aside' as const }))].sort(
    (a, b) => b.madeAtMs - a.madeAtMs,
  )

/**
 * Copies the open file as it is at this moment, with everything committed, while work goes on. The copy is checked before it
 * gets its name, so whatever is listed was sound when it was made. Thins the older ones out afterwards, but only where all of it was
 * checked. Two must not be made at once.
 *
 * Problems: `backup-failed` (disk full or broken, no permission), `backup-came-out-damaged` (the disk's fault or the open file's), `backup-stopped`; the open file and the other backups are untouched then.
 */
export async function makeBackup(
  file: SqliteFile.Database,
  reason: BackupReason,
  atMs: number,
  { lookThrough, depth }: { readonly lookThrough: LookThrough; readonly depth: 'quick' | 'whole' },
): Promise<Result<Backup>> {
  const folder = backupFolder(file.name)
  const temporary = join(folder, `${UNFINISHED}${process.pid}`)
  try {
    mkdirSync(folder, { recursive: true })
    clearUnfinished(folder)
    await file.backup(temporary)
    makeSelfContained(temporary)
    const found = await lookThrough(temporary, depth)
    if (found === null) {
      clearUnfinished(folder)
      return failed(stopped)
    }
    if (found.kind === 'damaged') return failed(cameOutDamaged(folder, found.findings))
    if (found.kind !== 'sound') return failed(backupFailed(folder, `what was written is ${found.kind}`))
    await syncFileBeside(temporary)
    const path = unusedPath(folder, reason, atMs)
    renameSync(temporary, path)
    syncFolder(folder)
    // Good ones must not make room for a copy of what is damaged.
    if (depth === 'whole' && found.damagedRows.length === 0) thinOut(folder, atMs)
    return ok({ name: basename(path), path, madeAtMs: atMs, reason, bytes: statSync(path).size, found })
  } catch (error) {
    if (!isSystemError(error)) throw error
    return failed(backupFailed(folder, error.message))
  }
}

const stopped = problem('backup-stopped', 'The app was closed before this backup was checked: one is made at closing.')

const cameOutDamaged = (folder: string, findings: readonly string[]): Problem =>
  problem(
    'backup-came-out-damaged',
    `The backup made in ${folder} came out damaged (${findings[0] ?? 'no details'}) and was not kept: check the disk.`,
  )

const backupFailed = (folder: string, why: string): Problem =>
  problem(
    'backup-failed',
    `No backup could be made in ${folder} (${why}): see that the disk has room and that this folder may be written to.`,
  )

export interface NamedBackup {
  readonly name: string
  readonly path: string
  readonly madeAtMs: number
  readonly reason: BackupReason
}

const DAY_MS = 24 * 60 * 60 * 1000
/** How a copy is named until it is checked. */
export const UNFINISHED = 'unfinished-'
const NAME = /^shop-(\d{8}T\d{6}Z)-(daily|closing|by-hand|before-upgrade)(?:-(\d+))?\.sqlite$/

/** All backups of a shop's file by their names, newest first, without looking into them. */
export const namedBackups = (path: string): NamedBackup[] => backupsIn(backupFolder(path))

/** The one with the newest work in it: what is dated ahead was made while the clock was wrong, and counts when there is no other. */
export function newestOf<Made extends { readonly madeAtMs: number }>(
  newestFirst: readonly Made[],
  nowMs: number,
): Made | undefined {
  return newestFirst.find((backup) => !isAhead(backup, nowMs)) ?? newestFirst[0]
}

const isAhead = ({ madeAtMs }: { readonly madeAtMs: number }, nowMs: number): boolean => madeAtMs > nowMs + DAY_MS

/** All backups in a folder by their names, newest first. */
export function backupsIn(folder: string): NamedBackup[] {
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return []
  return readdirSync(folder)
    .flatMap((name) => {
      const match = NAME.exec(name)
      if (match === null) return []
      const [, at = '', reason, again = '1'] = match
      return [
        {
          name,
          path: join(folder, name),
          madeAtMs: atOfStamp(at),
          reason: reason as BackupReason,
          again: Number(again),
        },
      ]
    })
    .sort((a, b) => b.madeAtMs - a.madeAtMs || b.again - a.again)
    .map(({ name, path, madeAtMs, reason }) => ({ name, path, madeAtMs, reason }))
}

function unusedPath(folder: string, reason: BackupReason, atMs: number): string {
  const stem = `shop-${stamp(atMs)}-${reason}`
  let path = join(folder, `${stem}.sqlite`)
  for (let again = 2; existsSync(path); again++) path = join(folder, `${stem}-${again}.sqlite`)
  return path
}

/**
 * Takes away what is not worth keeping in a folder of backups. Those made while the clock was ahead are counted apart: they
 * would push out the real ones for as long as it was.
 */
export function thinOut(folder: string, nowMs: number): void {
  const backups = backupsIn(folder)
  const kept = new Set([
    ...worthKeeping(backups.filter((backup) => !isAhead(backup, nowMs))),
    ...worthKeeping(backups.filter((backup) => isAhead(backup, nowMs))),
  ])
  for (const backup of backups) if (!kept.has(backup.name)) rmSync(backup.path)
}

/** Takes the copy out of write-ahead mode, so that it is one file and can be read without anything put beside it. */
export function makeSelfContained(path: string): void {
  const copy = new SqliteFile(path)
  try {
    copy.pragma('synchronous = full')
    copy.pragma('journal_mode = delete')
  } finally {
    copy.close()
  }
}

/** Takes away what a backup that was cut off left behind. */
export function clearUnfinished(folder: string): void {
  for (const name of readdirSync(folder)) if (name.startsWith(UNFINISHED)) rmSync(join(folder, name))
}
