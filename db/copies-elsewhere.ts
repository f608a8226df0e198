import { createHash } from 'node:crypto'
import { createReadStream, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { copyFile, mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { migrations as ourMigrations } from '../migrations/index.ts'
import { type Backup, backupsIn, clearUnfinished, type NamedBackup, thinOut, UNFINISHED } from './backup.ts'
import { isSystemError, syncFileBeside, syncFolder } from './durable-files.ts'
import { type ExamineElsewhere, examineFile, isLargeFile } from './examine-file.ts'
import { lookingThrough, type LookThrough } from './look-through.ts'

const PREFIX = 'out-of-clamps-'

/** Where the copies of one shop are within the folder that the maker named: other shops may be copied there too. */
export const copiesFolder = (named: string, id: string): string => join(named, `${PREFIX}${id}`)

/**
 * Copies a backup into a folder on another disk: first under a name that nobody takes for a copy, then read back, compared and
 * opened read-only, and only then under the backup's own name. Older copies of the same shop are thinned like the backups, where all of
 * the new one was checked.
 *
 * Problems: `copy-failed` (disk full or pulled out, no permission, another content read back), `copy-stopped`; the copies there are untouched.
 */
export async function copyElsewhere(
  backup: NamedBackup,
  folder: string,
  nowMs: number,
  look: LookAtCopy,
): Promise<Result<null>> {
  const temporary = join(folder, `${UNFINISHED}${process.pid}`)
  try {
    await mkdir(folder, { recursive: true })
    clearUnfinished(folder)
    await copyFile(backup.path, temporary)
    await syncFileBeside(temporary)
    if ((await digestOf(temporary)) !== (await digestOf(backup.path)))
      return refused(folder, temporary, 'something else was read back than was written')
    const depth = look === 'at-closing' && isLargeFile(temporary) ? 'quick' : 'whole'
    const found = await lookThroughAs(look)(temporary, depth)
    if (found === null) {
      clearUnfinished(folder)
      return failed(stopped)
    }
    if (found.kind !== 'sound') return refused(folder, temporary, `what was written is ${found.kind}`)
    renameSync(temporary, join(folder, backup.name))
    syncFolder(folder)
    // Good ones must not make room for a copy of what is damaged.
    if (depth === 'whole' && found.damagedRows.length === 0) thinOut(folder, nowMs)
    return ok(null)
  } catch (error) {
    if (!isSystemError(error)) throw error
    return refused(folder, temporary, error.message)
  }
}

function refused(folder: string, temporary: string, why: string): Result<never> {
  try {
    rmSync(temporary, { force: true })
  } catch (error) {
    if (!isSystemError(error)) throw error
  }
  return failed(copyFailed(folder, why))
}

/**
 * How a copy is looked through: all of it, a large one in another process, until it is told to stop; or at closing, when nobody waits until
 * all of a large one is.
 */
export type LookAtCopy = { readonly examineElsewhere: ExamineElsewhere; readonly signal: AbortSignal } | 'at-closing'

function lookThroughAs(look: LookAtCopy): LookThrough {
  const known = Object.keys(ourMigrations)
  return look === 'at-closing'
    ? async (path, depth) => examineFile(path, known, depth)
    : lookingThrough(known, look.examineElsewhere, look.signal)
}

const stopped = problem('copy-stopped', 'The app was closed before this copy was checked: one is made at closing.')

const copyFailed = (folder: string, why: string): Problem =>
  problem('copy-failed', `No copy could be made in ${folder} (${why}): check its disk, room and permissions.`)

/** A stick may be pulled out at any moment: nothing is read from it but through this. */
async function digestOf(path: string): Promise<string> {
  const hash = createHash('sha256')
  await pipeline(createReadStream(path), hash)
  return hash.digest('hex')
}

/**
 * All copies of all shops in a folder that the maker named, newest first, each named with the folder that it lies in:
 * `out-of-clamps-1a2b3c4d/shop-20260303T150000Z-daily.sqlite`. Empty when the folder is not there.
 */
export function listCopiesElsewhere(named: string, known = Object.keys(ourMigrations)): Backup[] {
  return namedCopies(named).flatMap((copy) => {
    const state = statSync(copy.path, { throwIfNoEntry: false })
    return state === undefined ? [] : [{ ...copy, bytes: state.size, found: examineFile(copy.path, known, 'glance') }]
  })
}

/** The same by their names, without looking into them. */
export function namedCopies(named: string): NamedBackup[] {
  if (!statSync(named, { throwIfNoEntry: false })?.isDirectory()) return []
  return readdirSync(named)
    .filter((name) => /^out-of-clamps-[0-9a-f]{8}$/.test(name))
    .flatMap((inside) => backupsIn(join(named, inside)).map((copy) => ({ ...copy, name: `${inside}/${copy.name}` })))
    .sort((a, b) => b.madeAtMs - a.madeAtMs)
}
