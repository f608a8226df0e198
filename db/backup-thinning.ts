/** Why a backup was made; `closing`: the shop was closed with something in it that no backup had yet. */
export type BackupReason = 'daily' | 'closing' | 'by-hand' | 'before-upgrade'

export interface DatedBackup {
  readonly name: string
  readonly madeAtMs: number
  readonly reason: BackupReason
}

const DAY_MS = 24 * 60 * 60 * 1000

/**
 * Names of the backups to keep, of a list that is sorted newest first: the newest ten of all, for each of the last fourteen
 * days that have one its newest, likewise for eight weeks and twelve months, the newest twenty made by hand and the newest
 * five made before an upgrade. Days, weeks and months (of 7 and 30 days) are counted from the epoch, in UTC: all that
 * matters is that they are spread out.
 */
export function worthKeeping(backups: readonly DatedBackup[]): ReadonlySet<string> {
  return new Set(
    [
      backups.slice(0, 10),
      newestOfEach(backups, DAY_MS, 14),
      newestOfEach(backups, 7 * DAY_MS, 8),
      newestOfEach(backups, 30 * DAY_MS, 12),
      backups.filter((one) => one.reason === 'by-hand').slice(0, 20),
      backups.filter((one) => one.reason === 'before-upgrade').slice(0, 5),
    ]
      .flat()
      .map((one) => one.name),
  )
}

function newestOfEach(backups: readonly DatedBackup[], spanMs: number, spans: number): DatedBackup[] {
  const newest = new Map<number, DatedBackup>()
  for (const backup of backups) {
    const span = Math.floor(backup.madeAtMs / spanMs)
    if (!newest.has(span)) newest.set(span, backup)
  }
  return [...newest.values()].slice(0, spans)
}
