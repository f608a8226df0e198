import type SqliteFile from 'better-sqlite3'
import { ok, problem, type Problem, type Result } from '../core/problems.ts'
import { type Backup, makeBackup, namedBackups } from './backup.ts'
import type { BackupReason } from './backup-thinning.ts'
import { isSystemError } from './durable-files.ts'
import { examineFile, isLargeFile } from './examine-file.ts'
import type { LookThrough } from './look-through.ts'
import { Turns } from './turns.ts'

/** A little less than a day, so that opening the shop every evening backs it up every evening. */
const DAILY_MS = 20 * 60 * 60 * 1000
/** After a backup failed: neither given up nor tried every few seconds. */
const RETRY_MS = 60 * 60 * 1000

/** The backups of one open file, made one after the other. */
export interface BackupKeeping {
  /**
   * To be called once the file is ready for use: from here on changes count. `new`: there is nothing worth a copy yet.
   * @param damaged rows found to be damaged, as sentences
   */
  begin(opened: 'new' | 'there-before', damaged: readonly string[]): void
  /** Copies everything committed so far while work goes on. */
  run(reason: BackupReason): Promise<Result<Backup>>
  /** Makes the daily backup when its time has come; cheap to ask every few seconds. */
  runWhenDue(): Promise<Result<Backup | null>>
  /** Makes a backup when the book was changed since the file was opened or last copied. Waits for one that is under way. */
  runAtClose(): Promise<void>
  /** Does something that reads the file or its copies for long, once no backup is under way; the next one waits for it. */
  inTurn<T>(work: () => Promise<T>): Promise<T>
  /** Rows were found to be damaged, as sentences; none: they are not any more. */
  tellDamaged(rows: readonly string[]): void
  /** Waits for a backup that is under way. */
  finished(): Promise<unknown>
  /** True once after a copy came out damaged: the file that it was made of may be. */
  takeDoubt(): boolean
  /** `backup-failed` for as long as the last one failed, `rows-damaged` for as long as there are some. */
  warnings(): readonly Problem[]
}

export function keepBackups(
  file: SqliteFile.Database,
  clockMs: () => number,
  { known, lookThrough }: { readonly known: readonly string[]; readonly lookThrough: LookThrough },
): BackupKeeping {
  /** Never two copies at once: they would take each other's unfinished file. */
  const turns = new Turns()
  let whenDue: Promise<Result<Backup | null>> | null = null
  let lastMadeMs = namedBackups(file.name)[0]?.madeAtMs ?? null
  let failedMs: number | null = null
  let inDoubt = false
  let warnings: readonly Problem[] = []
  /** Of the book when it was last copied, and when it was opened; null: not known. */
  let copied: string | null = null
  let opened: string | null = null

  async function make(reason: BackupReason): Promise<Result<Backup>> {
    const state = opened === null ? null : stateOf(file)
    // Closing does not wait until a large copy is looked through whole: nothing is thinned out for such a one, and whoever opens it looks.
    const depth = reason === 'closing' && isLargeFile(file.name) ? 'quick' : 'whole'
    const look: LookThrough = reason === 'closing' ? async (path) => examineFile(path, known, depth) : lookThrough
    const made = await makeBackup(file, reason, clockMs(), { lookThrough: look, depth })
    inDoubt ||= !made.ok && made.problems.some(({ code }) => code === 'backup-came-out-damaged')
    if (!made.ok) warnings = made.problems
    else if (depth === 'whole')
      warnings = warningsOf(made.value.found.kind === 'sound' ? made.value.found.damagedRows : [])
    failedMs = made.ok ? null : clockMs()
    if (made.ok) [lastMadeMs, copied] = [clockMs(), state]
    return made
  }

  const run = (reason: BackupReason): Promise<Result<Backup>> => turns.take(() => make(reason))

  /** A clock that was put back must not stop the backups. */
  const isPast = (sinceMs: number | null, spanMs: number): boolean =>
    sinceMs === null || Math.abs(clockMs() - sinceMs) >= spanMs

  async function runIfDue(): Promise<Result<Backup | null>> {
    await turns.ended()
    const due = isPast(lastMadeMs, DAILY_MS) && isPast(failedMs, RETRY_MS) && stateOf(file) !== copied
    return due ? run('daily') : ok(null)
  }

  return {
    run,
    inTurn: (work) => turns.take(work),
    tellDamaged(rows) {
      const failure = failedMs === null ? [] : warnings.filter(({ code }) => code !== 'rows-damaged')
      warnings = [...failure, ...warningsOf(rows)]
    },
    begin(as, damaged) {
      opened = stateOf(file)
      warnings = warningsOf(damaged)
      if (as === 'new') copied = opened
    },
    takeDoubt() {
      const doubted = inDoubt
      inDoubt = false
      return doubted
    },
    finished: () => turns.ended(),
    warnings: () => warnings,
    runWhenDue() {
      // Asked every few seconds, while one may take a minute: all who ask meanwhile wait for the same.
      whenDue ??= runIfDue().finally(() => (whenDue = null))
      return whenDue
    },
    async runAtClose() {
      await turns.ended()
      if (opened === null) return
      try {
        if (stateOf(file) !== (copied ?? opened)) await run('closing')
      } catch (error) {
        // A file that broke while it was open is closed all the same.
        if (!isSystemError(error)) throw error
      }
    },
  }
}

const warningsOf = (damaged: readonly string[]): Problem[] =>
  damaged.length === 0
    ? []
    : [
        problem(
          'rows-damaged',
          `Part of the order book is damaged: ${damaged.slice(0, 3).join('; ')}${damaged.length > 3 ? `; and ${damaged.length - 3} more` : ''}. ` +
            'The rest works. Almanac, Backups shows copies from before; none is thinned out meanwhile.',
        ),
      ]

/** Differs whenever somebody has done or typed something: all of that goes through the log or the drafts. */
const stateOf = (file: SqliteFile.Database): string =>
  String(
    file
      .prepare(
        `select coalesce((select max(id) from log), 0) || ' ' || count(*) || ' ' || coalesce(max(saved_at_ms), 0) from draft`,
      )
      .pluck()
      .get(),
  )
