import { copyFileSync, existsSync, linkSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { isSystemError, syncFile, syncFolder } from './durable-files.ts'
import { atOfStamp, stamp } from './stamp.ts'

/** A shop's file that had to make room for another one, with its write-ahead log where it had one. */
export interface SetAside {
  /** The handle by which it is asked for, beside the names of backups: `set-aside-20261125T180000Z`. */
  readonly name: string
  readonly path: string
  readonly madeAtMs: number
}

const KEPT = 10
const PREFIX = 'set-aside-'

const folderOf = (path: string): string => join(dirname(path), 'set-aside')

/** All files set aside, newest first. */
export function filesSetAside(path: string): SetAside[] {
  const folder = folderOf(path)
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return []
  const present = statSync(path, { throwIfNoEntry: false })
  return readdirSync(folder)
    .flatMap((name) => {
      const [, at = '', again = '1'] = /^(\d{8}T\d{6}Z)(?:-(\d+))?$/.exec(name) ?? []
      const file = join(folder, name, basename(path))
      const state = statSync(file, { throwIfNoEntry: false })
      // One and the same as the present file: an exchange was cut off before anything was exchanged.
      if (at === '' || state === undefined || state.ino === present?.ino) return []
      return [{ name: `${PREFIX}${name}`, path: file, madeAtMs: atOfStamp(at), again: Number(again) }]
    })
    .sort((a, b) => b.madeAtMs - a.madeAtMs || b.again - a.again)
    .map(({ name, path, madeAtMs }) => ({ name, path, madeAtMs }))
}

/**
 * Keeps a file and its write-ahead log in a folder of their own under a second name, which takes no room on the disk, and
 * answers with that folder; null when there is no file. The file itself stays in its place.
 */
export function keepAside(path: string, atMs: number): string | null {
  const present = [path, `${path}-wal`].filter((name) => existsSync(name))
  if (present.length === 0) return null
  const parent = folderOf(path)
  const folder = unusedFolder(parent, atMs)
  mkdirSync(folder, { recursive: true })
  try {
    for (const name of present) linkOrCopy(name, join(folder, basename(name)))
  } catch (error) {
    rmSync(folder, { recursive: true, force: true })
    throw error
  }
  syncFolder(folder)
  syncFolder(parent)
  thinOut(path)
  return folder
}

/** Moves a file and its log away, so that nothing is left in its place. */
export function moveAside(path: string, atMs: number): void {
  keepAside(path, atMs)
  for (const name of [path, `${path}-wal`, `${path}-shm`]) rmSync(name, { recursive: true, force: true })
  syncFolder(dirname(path))
}

/** Takes a file that is not the shop's own in under the shop's name. */
export function takeAside(strange: string, path: string, atMs: number): void {
  const folder = unusedFolder(folderOf(path), atMs)
  mkdirSync(folder, { recursive: true })
  renameSync(strange, join(folder, basename(path)))
  syncFolder(folder)
}

function unusedFolder(parent: string, atMs: number): string {
  let folder = join(parent, stamp(atMs))
  for (let again = 2; existsSync(folder); again++) folder = join(parent, `${stamp(atMs)}-${again}`)
  return folder
}

/** Some file systems know no second names; what is not a file cannot be copied and is moved as it is. */
function linkOrCopy(from: string, to: string): void {
  if (statSync(from).isDirectory()) return renameSync(from, to)
  try {
    linkSync(from, to)
  } catch (error) {
    if (!isSystemError(error) || error.code === 'ENOSPC') throw error
    copyFileSync(from, to)
    syncFile(to)
  }
}

/** The one that is being set aside is still the present file, and not among them. */
function thinOut(path: string): void {
  for (const old of filesSetAside(path).slice(KEPT - 1)) rmSync(dirname(old.path), { recursive: true, force: true })
}
