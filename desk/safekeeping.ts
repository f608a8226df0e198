import type { Backup } from '../db/backup.ts'
import type { Result } from '../core/problems.ts'
import type { BackupRow } from './views.ts'

/** What can be done with the copies of the data file. */
export interface Safekeeping {
  /** Newest first. */
  list(): readonly BackupRow[]
  make(): Promise<Result<BackupRow>>
  /** Puts a backup in the place of the present file, which is kept aside, and opens it. */
  open(file: string): Promise<Result<null>>
}

export const backupRow = ({ name, madeAtMs, bytes, found }: Backup): BackupRow => ({
  file: name,
  atMs: madeAtMs,
  bytes,
  commissions: found.kind === 'sound' ? found.commissions : null,
})
