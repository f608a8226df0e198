import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
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
  // Two that try at the same moment may both be turned away at first: a short while sorts it out.
  const lock = new SqliteFile(join(folder, LOCK), { timeout: 250 })
  try {
    lock.exec('begin exclusive')
  } catch (error) {
    lock.close()
    if (isBusy(error)) return failed(problem('folder-in-use', inUse(folder, whoHolds(folder))))
    throw error
  }
  writeNote(folder, holder)
  return ok({
    release() {
      if (!lock.open) return
      rmSync(join(folder, NOTE), { force: true })
      lock.close()
    },
  })
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

function writeNote(folder: string, holder: Holder): void {
  const unfinished = join(folder, `${NOTE}-${holder.pid}`)
  writeFileSync(unfinished, JSON.stringify(holder))
  renameSync(unfinished, join(folder, NOTE))
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
