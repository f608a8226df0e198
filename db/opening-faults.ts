import SqliteFile from 'better-sqlite3'
import { problem, type Problem } from '../core/problems.ts'
import { isSystemError } from './durable-files.ts'

/** Whatever went wrong while a shop was opened, in words that the maker can act on. */
export function openingProblem(fault: unknown, folder: string): Problem {
  if (!isSystemError(fault)) return unreadableBook(fault)
  const code = fault instanceof SqliteFile.SqliteError ? meaning(fault) : fault.code
  switch (code) {
    case 'ENOSPC':
    case 'EDQUOT':
      return problem(
        'disk-full',
        `The disk is full, so the order book in ${folder} cannot be opened: make room, then try again.`,
      )
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return problem(
        'folder-closed',
        `The folder ${folder} may not be written (${fault.message}): change its permissions, then try again.`,
      )
    case 'EBUSY':
      return problem(
        'file-busy',
        `Another program holds the order book in ${folder}: close that program, then try again.`,
      )
    case 'ENOTDIR':
    case 'EEXIST':
    case 'EISDIR':
      return problem(
        'folder-in-the-way',
        `Something stands in the place of a file or folder of the app in ${folder} (${fault.message}): move it away, then try again.`,
      )
    case 'EILSEQ':
      return unreadableBook(fault)
    default:
      return problem(
        'disk-failed',
        `The order book in ${folder} cannot be read (${fault.message}): check the disk, then try again.`,
      )
  }
}

/** The system's name for what SQLite met; `EILSEQ`: what it read makes no sense. */
function meaning({ code }: { readonly code: string }): string {
  if (code === 'SQLITE_FULL') return 'ENOSPC'
  if (/^SQLITE_(READONLY|PERM|AUTH|CANTOPEN)/.test(code)) return 'EACCES'
  if (/^SQLITE_(BUSY|LOCKED|PROTOCOL)/.test(code)) return 'EBUSY'
  return /^SQLITE_(IOERR|NOMEM)/.test(code) ? 'EIO' : 'EILSEQ'
}

const unreadableBook = (fault: unknown): Problem =>
  problem(
    'book-unreadable',
    `The order book holds something that cannot be read (${fault instanceof Error ? fault.message : String(fault)}). ` +
      'Open a copy, or have the file looked at.',
  )
