import SqliteFile from 'better-sqlite3'

/** Task of `upkeep`: stands from the erasing of a person until the file has been written anew. */
export const WIPE_DUE = 'wipe-due'

export const isWipeDue = (file: SqliteFile.Database): boolean =>
  file.prepare('select 1 from upkeep where task = ?').get(WIPE_DUE) !== undefined

/** Writes the file anew and empties its write-ahead log. False: the disk has no room for that; the file is as it was. */
export function wipe(file: SqliteFile.Database): boolean {
  try {
    file.exec('vacuum')
    file.pragma('wal_checkpoint(truncate)')
    file.prepare('delete from upkeep where task = ?').run(WIPE_DUE)
    file.pragma('wal_checkpoint(truncate)')
    return true
  } catch (error) {
    if (error instanceof SqliteFile.SqliteError && /^SQLITE_(FULL|IOERR|BUSY|LOCKED)/.test(error.code)) return false
    throw error
  }
}
