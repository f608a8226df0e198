import SqliteFile from 'better-sqlite3'
import { problem, type Problem } from '../core/problems.ts'

/**
 * An error of the disk or the file in words that the maker can act on; null for anything else. A write that meets one is
 * rolled back whole, so it is true that nothing of it was kept.
 */
export function storeProblem(error: unknown): Problem | null {
  if (!(error instanceof SqliteFile.SqliteError)) return null
  const { code } = error
  if (code === 'SQLITE_FULL')
    return problem('disk-full', 'The disk is full: nothing of this was kept. Make room, then try again.')
  if (/^SQLITE_(READONLY|PERM|CANTOPEN)/.test(code))
    return problem(
      'disk-read-only',
      'The shop’s file may not be written: nothing of this was kept. Check the folder’s permissions, then try again.',
    )
  if (/^SQLITE_(BUSY|LOCKED|PROTOCOL)/.test(code))
    return problem(
      'file-busy',
      'Another program holds the shop’s file: nothing of this was kept. Close that program, then try again.',
    )
  if (code.startsWith('SQLITE_IOERR'))
    return problem(
      'disk-failed',
      'The disk refused to read or write: nothing of this was kept. Make a backup on another disk, then try again.',
    )
  if (/^SQLITE_(CORRUPT|NOTADB)/.test(code))
    return problem(
      'file-damaged',
      'Part of the shop’s file is damaged: this could not be done. Close the app and start it again to see which backups can be opened.',
    )
  return null
}
