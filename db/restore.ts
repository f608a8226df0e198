import { copyFileSync, existsSync, renameSync, rmSync, statSync, utimesSync } from 'node:fs'
import { dirname } from 'node:path'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { copiesOf, makeSelfContained } from './backup.ts'
import { isSystemError, syncFile, syncFolder } from './durable-files.ts'
import { type Examination, examineFile, whatFailed } from './examine-file.ts'
import { keepAside, takeAside } from './set-aside.ts'

/** A copy that was looked at and lies ready beside the shop's file. */
export interface ReadyCopy {
  /**
   * Puts it in the place of the shop's file, which must be closed by now and is kept in `set-aside/`, whatever state it is in.
   * Cut off at any moment, the next opening finds the old file or finishes the exchange. Problem: `restore-failed`.
   */
  putInPlace(atMs: number): Result<{ readonly setAside: string | null }>
}

/**
 * Gets a backup, or a file that was set aside, ready to take the place of the shop's file. That one may stay open meanwhile:
 * when there is no room for the copy, or it is of no use, nothing has happened.
 *
 * Problems: `backup-missing`, `backup-newer`, `backup-damaged`, `restore-failed` (disk full or broken, no permission).
 */
export function readyCopy(path: string, name: string, known = Object.keys(ourMigrations)): Result<ReadyCopy> {
  const backup = copiesOf(path).find((one) => one.name === name)
  return backup === undefined
    ? failed(problem('backup-missing', `There is no copy named ${name} any more.`))
    : readyFile(path, backup, known)
}

/** The same of any file that holds a shop. */
export function readyFile(
  path: string,
  { path: from, name }: { readonly path: string; readonly name: string },
  known = Object.keys(ourMigrations),
): Result<ReadyCopy> {
  const copy = `${readyToReplace(path)}-copying`
  const discardLogs = (): void => {
    for (const ending of ['-wal', '-shm', '-journal']) rmSync(copy + ending, { force: true })
  }
  const discard = (): void => {
    rmSync(copy, { force: true })
    discardLogs()
  }
  const refused = refusedByDisk(() => {
    discardLogs()
    copyFileSync(from, copy)
    // A file that was set aside may still have its last commits in its log.
    if (existsSync(`${from}-wal`)) copyFileSync(`${from}-wal`, `${copy}-wal`)
    const found = soundOnItsOwn(copy, known)
    if (found.kind !== 'sound') return notUsable(name, found)
    syncFile(copy)
    return null
  })
  if (refused !== null) {
    discard()
    return failed(refused)
  }
  return ok({
    putInPlace(atMs) {
      const done = putInPlace(copy, path, atMs)
      discard()
      return done
    },
  })
}

function putInPlace(copy: string, path: string, atMs: number): Result<{ readonly setAside: string | null }> {
  let setAside: string | null = null
  const ready = readyToReplace(path)
  const refused = refusedByDisk(() => {
    setAside = keepAside(path, atMs)
    // Younger than the file that it replaces: that is how a left-over is told from an exchange that was cut off.
    utimesSync(copy, new Date(), new Date())
    renameSync(copy, ready)
    syncFolder(dirname(path))
    exchange(path)
    return null
  })
  if (refused === null) return ok({ setAside })
  // Nothing was exchanged: the present file goes on alone.
  if (setAside !== null && !existsSync(ready)) rmSync(setAside, { recursive: true, force: true })
  return failed(refused)
}

/**
 * Completes an exchange that was cut off after the old file had been set aside. A left-over that is not sound, or older than
 * the shop's file, replaces nothing: it is set aside itself.
 */
export function finishRestoring(path: string, known = Object.keys(ourMigrations)): void {
  const ready = readyToReplace(path)
  const left = statSync(ready, { throwIfNoEntry: false })
  if (left === undefined) return
  const present = statSync(path, { throwIfNoEntry: false })
  const isOurs = present === undefined || present.mtimeMs <= left.mtimeMs
  if (isOurs && examineFile(ready, known).kind === 'sound') exchange(path)
  else takeAside(ready, path, left.mtimeMs)
}

function exchange(path: string): void {
  // The old file's write-ahead log must be gone before the new file is there, or it would be applied to it.
  for (const beside of [`${path}-wal`, `${path}-shm`]) rmSync(beside, { force: true })
  syncFolder(dirname(path))
  renameSync(readyToReplace(path), path)
  syncFolder(dirname(path))
}

const readyToReplace = (path: string): string => `${path}-restored`

function soundOnItsOwn(copy: string, known: readonly string[]): Examination {
  try {
    makeSelfContained(copy)
  } catch (error) {
    return whatFailed(error)
  }
  return examineFile(copy, known, 'whole')
}

function refusedByDisk(work: () => Problem | null): Problem | null {
  try {
    return work()
  } catch (error) {
    if (!isSystemError(error)) throw error
    const why = error.code === 'ENOSPC' ? 'the disk is full: make room' : `${error.message}: check the disk`
    return problem('restore-failed', `This copy could not be opened (${why}, then try again). Nothing was changed.`)
  }
}

function notUsable(name: string, found: Examination): Problem {
  switch (found.kind) {
    case 'newer':
      return problem(
        'backup-newer',
        `The backup ${name} was made by a newer version of Out of Clamps: install that version.`,
      )
    case 'damaged':
      return problem('backup-damaged', `The backup ${name} is damaged (${found.findings[0]}): choose another one.`)
    case 'unreadable':
      return problem('backup-damaged', `The backup ${name} cannot be read (${found.why}): choose another one.`)
    default:
      return problem('backup-damaged', `The backup ${name} holds no shop: choose another one.`)
  }
}
