import { mkdirSync, readFileSync, renameSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { failed, ok, problem, type Result } from '../core/problems.ts'

/** Who has the shop open. */
export interface Holder {
  /** In words that finish "It is open in ...": "the window", "the browser at http://127.0.0.1:4123". */
  readonly where: string
  readonly pid: number
  readonly sinceMs: number
}

export interface FolderLock {
  release(): void
}

/**
 * Takes a data folder for this process, so that window and browser never write to one shop at the same time. The lock is an
 * exclusive transaction on a small file of its own, which the operating system frees when the process ends, however it
 * ends. Who holds it is told by a note beside it.
 *
 * Problem: `folder-in-use`.
 */
export function lockFolder(folder: string, holder: Holder): Result<FolderLock> {
  mkdirSync(folder, { recursive: true })
  const path = join(folder, LOCK)
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) throw folderInPlaceOf(path)
  let lock = held(path)
  if (lock === 'damaged') {
    // Who holds a lock keeps others from reading it, so nobody does; emptied it is as good as new.
    truncateSync(path)
    lock = held(path)
  }
  if (lock === 'busy') return failed(problem('folder-in-use', inUse(folder, whoHolds(folder))))
  if (lock === 'damaged') throw new Error(`The lock ${path} cannot be used`)
  writeNote(folder, holder)
  return ok({
    release() {
      if (!lock.open) return
      rmSync(join(folder, NOTE), { force: true })
      lock.close()
    },
  })
}

/** @throws SqliteError when the system refuses: no permission */
function held(path: string): SqliteFile.Database | 'busy' | 'damaged' {
  // Two that try at the same moment may both be turned away at first: a short while sorts it out.
  const lock = new SqliteFile(path, { timeout: BUSY_FOR_MS })
  try {
    // A lock needs no journal, and must be had on a disk that is full.
    lock.pragma('journal_mode = off')
    lock.exec('begin exclusive')
    return lock
  } catch (error) {
    lock.close()
    if (isBusy(error)) return 'busy'
    if (error instanceof SqliteFile.SqliteError && /^SQLITE_(NOTADB|CORRUPT)/.test(error.code)) return 'damaged'
    throw error
  }
}

/** What the holder wrote about itself; null when nothing readable is there. Says nothing about whether it still lives. */
export function whoHolds(folder: string): Holder | null {
  try {
    const note: unknown = JSON.parse(readFileSync(join(folder, NOTE), 'utf8'))
    return isHolder(note) ? note : null
  } catch {
    return null
  }
}

const LOCK = 'in-use.lock'
const NOTE = 'in-use.json'
/** As long as the system may take to clear away a process that was killed hard a moment ago. */
const BUSY_FOR_MS = 2_500

const isBusy = (error: unknown): boolean =>
  error instanceof SqliteFile.SqliteError && error.code.startsWith('SQLITE_BUSY')

function inUse(folder: string, holder: Holder | null): string {
  if (holder === null)
    return `This shop is already open on this computer (folder ${folder}). Close it there, or go on there.`
  const since = new Date(holder.sinceMs).toISOString()
  return (
    `This shop is already open in ${holder.where} (since ${since.slice(0, 10)} ${since.slice(11, 16)} UTC, ` +
    `process ${holder.pid}, folder ${folder}). Close it there, or go on there.`
  )
}

/** SQLite says only that it cannot open it, as it does without permission. */
const folderInPlaceOf = (path: string): Error => Object.assign(new Error(`${path} is a folder`), { code: 'EISDIR' })

/** The note only helps whoever is turned away: where there is no room for it, the lock holds all the same. */
function writeNote(folder: string, holder: Holder): void {
  const unfinished = join(folder, `${NOTE}-${holder.pid}`)
  try {
    writeFileSync(unfinished, JSON.stringify(holder))
    renameSync(unfinished, join(folder, NOTE))
  } catch (error) {
    console.error('Who holds the folder was not written down:', error)
  }
}

const isHolder = (note: unknown): note is Holder =>
  typeof note === 'object' &&
  note !== null &&
  'where' in note &&
  typeof note.where === 'string' &&
  'pid' in note &&
  typeof note.pid === 'number' &&
  'sinceMs' in note &&
  typeof note.sinceMs === 'number' &&
  Number.isFinite(new Date(note.sinceMs).getTime())
