import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { examineFile, type Examination } from './examine-file.ts'
import { worthKeeping } from './backup-thinning.ts'

/** Why a backup was made. */
export type BackupReason = 'daily' | 'by-hand' | 'before-upgrade'

export interface Backup {
  /** Its file name: the handle by which it is asked for. */
  readonly name: string
  readonly path: string
  readonly madeAtMs: number
  readonly reason: BackupReason
  readonly bytes: number
  /** What is in it; `sound` and `newer` and `damaged` matter. */
  readonly found: Examination
}

/** Where the backups of a shop's file are: the folder `backups` beside it. */
export const backupFolder = (path: string): string => join(dirname(path), 'backups')

/** All backups of a shop's file, newest first, each looked at without writing to it. Other files in the folder are passed over. */
export function listBackups(path: string, known = Object.keys(ourMigrations)): Backup[] {
  return namedBackups(path).map((backup) => ({
    ...backup,
    bytes: statSync(backup.path).size,
    found: examineFile(backup.path, known),
  }))
}

/**
 * Copies the open file as it is at this moment, with everything committed, while work goes on. The copy is checked before it
 * gets its name, so whatever is listed was sound when it was made. Thins the older ones out afterwards.
 *
 * @throws when the disk is full or broken; the open file and the other backups are untouched then
 */
export async function makeBackup(
  file: SqliteFile.Database,
  reason: BackupReason,
  atMs: number,
  known = Object.keys(ourMigrations),
): Promise<Backup> {
  const folder = backupFolder(file.name)
  mkdirSync(folder, { recursive: true })
  const temporary = join(folder, `${UNFINISHED}${process.pid}`)
  removeWithBesides(temporary)
  try {
    await file.backup(temporary)
    makeSelfContained(temporary)
    const found = examineFile(temporary, known)
    if (found.kind !== 'sound') throw new Error(`The backup that was just written is ${found.kind}`)
    const path = unusedPath(folder, reason, atMs)
    syncFile(temporary)
    renameSync(temporary, path)
    syncFolder(folder)
    thinOut(file.name)
    return { name: basename(path), path, madeAtMs: atMs, reason, bytes: statSync(path).size, found }
  } finally {
    removeWithBesides(temporary)
  }
}

/** The newest backup, without looking into it; null when there is none. */
export const newestBackup = (path: string): NamedBackup | null => namedBackups(path)[0] ?? null

/**
 * Puts a backup in the place of the shop's file. That file must be closed (and its folder locked by the caller). It is kept
 * aside in `set-aside/`, whatever state it is in; the backup itself stays where it is. Cut off at any moment, the next
 * opening finds either the old file or finishes the exchange.
 */
export function restoreBackup(
  path: string,
  name: string,
  atMs: number,
  known = Object.keys(ourMigrations),
): Result<{ readonly setAside: string | null }> {
  const backup = namedBackups(path).find((one) => one.name === name)
  if (backup === undefined)
    return failed(problem('backup-missing', `There is no backup named ${name} in ${backupFolder(path)}.`))

  const ready = readyToReplace(path)
  const copy = `${ready}-copying`
  copyFileSync(backup.path, copy)
  const found = examineFile(copy, known)
  if (found.kind !== 'sound') {
    rmSync(copy)
    return failed(notUsable(name, found))
  }
  const setAside = setFileAside(path, atMs)
  syncFile(copy)
  renameSync(copy, ready)
  syncFolder(dirname(path))
  finishRestoring(path)
  return ok({ setAside })
}

/** Completes an exchange that was cut off after the old file had been set aside; does nothing otherwise. */
export function finishRestoring(path: string): void {
  const ready = readyToReplace(path)
  if (!existsSync(ready)) return
  // The old file's write-ahead log must be gone before the new file is there, or it would be applied to it.
  for (const beside of [`${path}-wal`, `${path}-shm`]) rmSync(beside, { force: true })
  syncFolder(dirname(path))
  renameSync(ready, path)
  syncFolder(dirname(path))
}

const readyToReplace = (path: string): string => `${path}-restored`

function notUsable(name: string, found: Examination) {
  switch (found.kind) {
    case 'newer':
      return problem(
        'backup-newer',
        `The backup ${name} was made by a newer version of Out of Clamps: install that version.`,
      )
    case 'damaged':
      return problem('backup-damaged', `The backup ${name} is damaged (${found.findings[0]}): choose another one.`)
    default:
      return problem('backup-damaged', `The backup ${name} holds no shop: choose another one.`)
  }
}

/** Copies a file and its write-ahead log into a folder of their own, and answers with that folder. */
function setFileAside(path: string, atMs: number): string | null {
  const present = [path, `${path}-wal`].filter((name) => existsSync(name))
  if (present.length === 0) return null
  const parent = join(dirname(path), 'set-aside')
  let folder = join(parent, stamp(atMs))
  for (let again = 2; existsSync(folder); again++) folder = join(parent, `${stamp(atMs)}-${again}`)
  mkdirSync(folder, { recursive: true })
  for (const name of present) {
    const kept = join(folder, basename(name))
    copyFileSync(name, kept)
    syncFile(kept)
  }
  syncFolder(folder)
  syncFolder(parent)
  return folder
}

interface NamedBackup {
  readonly name: string
  readonly path: string
  readonly madeAtMs: number
  readonly reason: BackupReason
}

const UNFINISHED = 'unfinished-'
const NAME = /^shop-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z-(daily|by-hand|before-upgrade)(?:-(\d+))?\.sqlite$/

/** Newest first. */
function namedBackups(path: string): NamedBackup[] {
  const folder = backupFolder(path)
  if (!existsSync(folder)) return []
  return readdirSync(folder)
    .flatMap((name) => {
      const match = NAME.exec(name)
      if (match === null) return []
      const [year, month, day, hour, minute, second] = match.slice(1, 7).map(Number) as [
        number,
        number,
        number,
        number,
        number,
        number,
      ]
      const madeAtMs = Date.UTC(year, month - 1, day, hour, minute, second)
      return [
        { name, path: join(folder, name), madeAtMs, reason: match[7] as BackupReason, again: Number(match[8] ?? 1) },
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

const stamp = (atMs: number): string => new Date(atMs).toISOString().replace(/[-:]|\.\d+/g, '')

function thinOut(path: string): void {
  const backups = namedBackups(path)
  const kept = worthKeeping(backups)
  for (const backup of backups) if (!kept.has(backup.name)) rmSync(backup.path)
}

/** Takes the copy out of write-ahead mode, so that it is one file and can be read without anything put beside it. */
function makeSelfContained(path: string): void {
  const copy = new SqliteFile(path)
  try {
    copy.pragma('synchronous = full')
    copy.pragma('journal_mode = delete')
  } finally {
    copy.close()
  }
}

function removeWithBesides(path: string): void {
  for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(path + ending, { force: true })
}

function syncFile(path: string): void {
  const file = openSync(path, 'r+')
  try {
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
}

/** Makes a rename last through a power cut. Windows knows no such thing for folders and needs none. */
function syncFolder(path: string): void {
  if (process.platform === 'win32') return
  const folder = openSync(path, 'r')
  try {
    fsyncSync(folder)
  } finally {
    closeSync(folder)
  }
}
