import { copyFileSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { backupFolder, namedBackups, stamp } from './backup.ts'
import { isSystemError, syncFile, syncFolder } from './durable-files.ts'
import { type Examination, examineFile } from './examine-file.ts'

/**
 * Puts a backup in the place of the shop's file. That file must be closed (and its folder locked by the caller). It is kept
 * aside in `set-aside/`, whatever state it is in; the backup itself stays where it is. Cut off at any moment, the next
 * opening finds either the old file or finishes the exchange.
 *
 * Problems: `backup-missing`, `backup-newer`, `backup-damaged`, `restore-failed` (disk full or broken, no permission).
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
  const copy = `${readyToReplace(path)}-copying`
  try {
    copyFileSync(backup.path, copy)
    const found = examineFile(copy, known)
    if (found.kind !== 'sound') return failed(notUsable(name, found))
    const setAside = setFileAside(path, atMs)
    syncFile(copy)
    renameSync(copy, readyToReplace(path))
    syncFolder(dirname(path))
    finishRestoring(path)
    return ok({ setAside })
  } catch (error) {
    if (!isSystemError(error)) throw error
    const advice = 'see that the disk has room and that its folder may be written to, then start again.'
    return failed(problem('restore-failed', `The backup could not be put in place (${error.message}): ${advice}`))
  } finally {
    rmSync(copy, { force: true })
  }
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
