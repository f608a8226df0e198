import type { StepEntry } from '../core/book/book.ts'
import { entriesTakenBack, entryOf } from './log.ts'
import type { Db } from './schema.ts'
import { stepEntriesOf } from './steps.ts'

const DAY_MS = 24 * 3_600_000
/** Waits that began longer ago are over: nobody asks any more when the shop was heated. */
const LATE_MS = 62 * DAY_MS

interface Read {
  /** Instant of the first entry that is late, milliseconds since the Unix epoch. */
  readonly fromMs: number
  /** The newest entry of the log then. Its checksum is over all before it, so that it tells of texts that were rewritten. */
  readonly newest: Newest
  /** In the order in which they were written, those that were taken back included. */
  readonly entries: readonly StepEntry[]
}

interface Newest {
  readonly id: number
  readonly atMs: number
  readonly checksum: string | null
}

/** What was done lately at steps of any order: thousands of entries, of which only those are read again that were written since the last time. */
export class LateWork {
  #read: Read | null = null
  #besides: readonly StepEntry[] = []

  /**
   * Those entries that count, at other steps than these, oldest first: the same object for as long as they are the same.
   * @param steps of the orders that are open
   */
  async besides(db: Db, steps: readonly { readonly id: string }[]): Promise<readonly StepEntry[]> {
    const newest = await newestOf(db)
    if (newest === null) return (this.#besides = [])
    this.#read = await this.#readOn(db, newest)
    const own = new Set(steps.map(({ id }) => id))
    const takenBack = await entriesTakenBack(db)
    const now = this.#read.entries.filter(({ id, stepId }) => !own.has(stepId) && !takenBack.has(id))
    const isSame = now.length === this.#besides.length && now.every((entry, at) => entry === this.#besides[at])
    return isSame ? this.#besides : (this.#besides = now)
  }

  /** The instant from which on they are read, whole minutes since the Unix epoch; -Infinity: nothing is written down. */
  get sinceMin(): number {
    return this.#read === null ? -Infinity : this.#read.fromMs / 60_000
  }

  async #readOn(db: Db, newest: Newest): Promise<Read> {
    // From the beginning of a day, so that not every press moves it.
    const fromMs = Math.floor((newest.atMs - LATE_MS) / DAY_MS) * DAY_MS
    const before = this.#read
    const isKept =
      before?.fromMs === fromMs && (await newestOf(db, before.newest.id))?.checksum === before.newest.checksum
    if (isKept && before.newest.id === newest.id) return before
    // What is written meanwhile is read the next time.
    const rows = db.selectFrom('log').selectAll().where('step_id', 'is not', null).where('id', '<=', newest.id)
    const more = isKept
      ? await rows.where('id', '>', before.newest.id).orderBy('id').execute()
      : (await rows.where('at_ms', '>=', fromMs).execute()).sort((a, b) => a.id - b.id)
    const nothing = new Set<number>()
    const read = stepEntriesOf(more.filter(({ at_ms }) => at_ms >= fromMs).map((row) => entryOf(row, nothing)))
    return { fromMs, newest, entries: isKept ? [...before.entries, ...read] : read }
  }
}

/** The newest entry of the log, or the newest up to one. */
async function newestOf(db: Db, upTo?: number): Promise<Newest | null> {
  const row = await db
    .selectFrom('log')
    .select(['id', 'at_ms', 'checksum'])
    .$if(upTo !== undefined, (all) => all.where('id', '<=', upTo!))
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst()
  return row === undefined ? null : { id: row.id, atMs: row.at_ms, checksum: row.checksum }
}
