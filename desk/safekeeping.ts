import type { Backup } from '../db/backup.ts'
import type { Lacking } from '../db/backup-difference.ts'
import type { Result } from '../core/problems.ts'
import type { BackupReason } from '../db/backup-thinning.ts'
import type { ShopPart } from './open-formats/arriving-shop.ts'

/** What can be read of a damaged file, and what cannot, as lines; no lines: everything can. */
export interface RescueView {
  readonly orders: number
  readonly lost: readonly string[]
}

export interface BackupRow {
  readonly file: string
  readonly atMs: number
  readonly bytes: number
  /** `set-aside`: it was the data file until another one took its place. */
  readonly reason: BackupReason | 'set-aside'
  /** Null: it cannot be read. */
  readonly commissions: number | null
}

/** What the present book has that a copy lacks. */
export type CopyLacks = Lacking

/** What can be done with the data file and its copies, also while the file could not be opened. */
export interface Safekeeping {
  /** Newest first, with the files that were set aside. */
  list(): readonly BackupRow[]
  make(): Promise<Result<BackupRow>>
  /** What the present book has that a copy lacks. */
  lackingIn(file: string): Promise<Result<Lacking>>
  /** The same of a copy in the folder that the maker named. */
  lackingElsewhere(file: string): Promise<Result<Lacking>>
  /** Puts a copy in the place of the present file, which is kept aside, and opens it. */
  open(file: string): Promise<Result<null>>
  /** The same of a copy in the folder that the maker named. */
  openElsewhere(file: string): Promise<Result<null>>
  /** Sees to it that there is a backup and that it lies in the folder that the maker named. */
  copyElsewhere(): Promise<void>
  /** What can be read of a file that cannot be opened; nothing is changed by asking. */
  rescue(): Promise<Result<RescueView>>
  /** Opens what the last rescue could read; the damaged file is kept aside, with the list of what is missing. */
  openRescued(): Promise<Result<null>>
  /** Opens the present file once more, after whatever was in the way was put right. */
  tryAgain(): Promise<Result<null>>
  /** Keeps the present file aside and begins an empty shop; only while the present file cannot be opened. */
  beginAnew(): Promise<Result<null>>
  showFolder(): Promise<Result<null>>
  /** Keeps one part of the text of a whole shop until all of them are there. */
  takePart(part: ShopPart): Result<null>
  /** Makes a file of the shop whose parts have arrived; what the present book has that it lacks, null where none is open. */
  lookIn(id: string, parts: number): Promise<Result<Lacking | null>>
  /** Puts the shop that was looked into in the place of the present one, which is kept aside, and opens it. */
  bringIn(id: string): Promise<Result<null>>
  /** Throws away what has arrived. */
  leaveOut(): Promise<Result<null>>
}

/** Characters of one part: less than either shell takes at once, however they are written. */
export const LARGEST_PART = 2_000_000

export const backupRow = ({ name, madeAtMs, bytes, reason, found }: Backup): BackupRow => ({
  file: name,
  atMs: madeAtMs,
  bytes,
  reason,
  commissions: found.kind === 'sound' ? found.commissions : null,
})
