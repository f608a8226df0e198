import type { SelectQueryBuilder } from 'kysely'
import type { StepEntry } from '../core/book/book.ts'
import type { FailureReason } from '../core/book/failure-reasons.ts'
import type { LoggedStep } from '../core/learning/index.ts'
import { entriesTakenBack, entryOf, type LogEntry } from './log.ts'
import type { Database, Db } from './schema.ts'
import { stepEntriesOf } from './steps.ts'

/** What was ever worked on, of all orders, with every entry about it that counts, oldest first. */
export interface WorkLogged {
  readonly steps: readonly (LoggedStep & {
    readonly number: number
    readonly title: string
    readonly construction: string
  })[]
  readonly entries: readonly StepEntry[]
  /** Instant of its first entry, minutes since the Unix epoch, where older work is left out; null: none is, or only newer was asked for. */
  readonly since: number | null
}

/** Waited for after each part of what takes long to read, so that others have their turn. */
type Between = () => Promise<unknown>

/** Everything that was ever worked on, with every entry about it. */
export async function workLogged(db: Db): Promise<WorkLogged> {
  const those = db.selectFrom('log').select('step_id').distinct().where('step_id', 'is not', null)
  return workOf(db, await readWork(db, those.$castTo<{ step_id: string }>()), 'all-there-is')
}

/** The same of the steps that something was written about after an entry. */
export async function workLoggedSince(db: Db, after: number): Promise<WorkLogged> {
  // Told apart here: SQLite would walk through the whole index for it.
  const rows = await db.selectFrom('log').select('step_id').where('id', '>', after).execute()
  const ids = new Set(rows.flatMap(({ step_id }) => step_id ?? []))
  return workOf(db, await readWork(db, [...ids]), 'all-there-is')
}

/** Of so many the reading takes a hundredth of a second. */
const [STEPS_AT_ONCE, ENTRIES_AT_ONCE] = [400, 2000]

/**
 * The same of the steps that the newest so many entries are about; newest by number, as that is the order in which things were pressed.
 * What is written while it is read may be in it or not.
 */
export async function newestWorkLogged(db: Db, newest: number, between: Between): Promise<WorkLogged> {
  const read = await inParts(await newestSteps(db, newest, between), between, async (part) => [
    await readWork(db, part),
  ])
  const steps = read.flatMap((part) => part.steps).sort((a, b) => (a.id < b.id ? -1 : 1))
  const entries = read.flatMap((part) => part.entries).sort((a, b) => a.id - b.id)
  return workOf(db, { steps, entries }, 'part')
}

async function newestSteps(db: Db, newest: number, between: Between): Promise<string[]> {
  const ids = new Set<string>()
  let [left, before] = [newest, Number.MAX_SAFE_INTEGER]
  while (left > 0) {
    const rows = await db
      .selectFrom('log')
      .select(['id', 'step_id'])
      .where('step_id', 'is not', null)
      .where('id', '<', before)
      .orderBy('id', 'desc')
      .limit(Math.min(left, ENTRIES_AT_ONCE))
      .execute()
    const last = rows.at(-1)
    if (last === undefined) break
    for (const { step_id } of rows) if (step_id !== null) ids.add(step_id)
    left -= rows.length
    before = last.id
    await between()
  }
  return [...ids]
}

type ReadWork = Awaited<ReturnType<typeof readWork>>

/** Steps with what is written of them, taken back or not. */
async function readWork(db: Db, those: SelectQueryBuilder<Database, 'log', { step_id: string }> | readonly string[]) {
  const steps = await db
    .selectFrom('step')
    .innerJoin('piece', 'piece.id', 'step.piece_id')
    .innerJoin('commission', 'commission.id', 'piece.commission_id')
    .select(['step.id', 'operation', 'step.name', 'minutes', 'units', 'unit_min', 'set_up_family', 'set_up_min'])
    .select(['piece.commission_id', 'piece.title', 'piece.construction', 'commission.number'])
    .where('step.id', 'in', those)
    .orderBy('step.id')
    .execute()
  const rows = await db
    .selectFrom('log')
    .selectAll()
    .where('step_id', 'is not', null)
    .where('step_id', 'in', those)
    .orderBy('id')
    .execute()
  const nothing = new Set<number>()
  return { steps, entries: rows.map((row) => entryOf(row, nothing)) }
}

async function workOf(db: Db, { steps, entries }: ReadWork, what: 'all-there-is' | 'part'): Promise<WorkLogged> {
  const takenBack = await entriesTakenBack(db)
  const isPart = what === 'part' && (await isOlderLeftOut(db, entries))
  return {
    steps: steps.map((row) => ({
      id: row.id,
      commissionId: row.commission_id,
      operation: row.operation,
      name: row.name,
      minutes: row.minutes,
      units: row.units === null || row.unit_min === null ? null : { count: row.units, eachMin: row.unit_min },
      setUp:
        row.set_up_family === null || row.set_up_min === null
          ? null
          : { family: row.set_up_family, minutes: row.set_up_min },
      number: row.number,
      title: row.title,
      construction: row.construction,
    })),
    entries: stepEntriesOf(entries.filter(({ id }) => !takenBack.has(id))),
    since: isPart ? Math.floor(entries.reduce((least, { atMs }) => Math.min(least, atMs), Infinity) / 60_000) : null,
  }
}

async function isOlderLeftOut(db: Db, read: readonly { readonly id: number }[]): Promise<boolean> {
  const first = await db
    .selectFrom('log')
    .select('id')
    .where('step_id', 'is not', null)
    .orderBy('id')
    .limit(1)
    .executeTakeFirst()
  return first !== undefined && read.length > 0 && first.id !== read[0]!.id
}

/** A failure that counts, with the step it was found at. */
export interface LoggedFailure {
  readonly entryId: number
  readonly atMs: number
  readonly commissionId: string
  readonly pieceId: string
  readonly stepId: string
  readonly operation: string
  readonly stepName: string
  readonly reason: FailureReason
  readonly count: number
  /** What the wood cost that is lost; 0: none was, null: nobody knows. */
  readonly woodMinor: number | null
  /** Hands-on minutes whose result is lost; null: not kept with it. */
  readonly lostMin: number | null
  readonly note: string
}

/** Everything that ever failed, oldest first. */
export async function failuresLogged(db: Db): Promise<LoggedFailure[]> {
  const rows = await db
    .selectFrom('log')
    .innerJoin('step', 'step.id', 'log.step_id')
    .innerJoin('piece', 'piece.id', 'step.piece_id')
    .selectAll('log')
    .select(['step.operation', 'step.name', 'piece.id as of_piece', 'piece.commission_id as of_commission'])
    .where('action', '=', 'step-failed')
    .orderBy('log.id')
    .execute()
  const takenBack = await entriesTakenBack(db)
  return rows.flatMap((row) => {
    const { event, counts, note } = entryOf(row, takenBack)
    if (!counts || event.kind !== 'step' || event.did.kind !== 'failed') return []
    const { reason, count, woodMinor, lostMin = null } = event.did
    return [
      {
        ...{ entryId: row.id, atMs: row.at_ms, commissionId: row.of_commission, pieceId: row.of_piece },
        ...{ stepId: row.step_id ?? '', operation: row.operation, stepName: row.name, reason, count, woodMinor, note },
        lostMin,
      },
    ]
  })
}

/** Steps after which something is in clamps, and the lots that steps belong to: what failures are counted against. */
export async function gluedAndLots(
  db: Db,
  stepIds: readonly string[],
  between: Between,
): Promise<{ readonly glueUps: ReadonlySet<string>; readonly lotOf: ReadonlyMap<string, string> }> {
  const glued = await inParts(stepIds, between, (part) =>
    db
      .selectFrom('lag')
      .select('from_step_id')
      .where('wait', '=', 'in-clamps')
      .where('from_step_id', 'in', part)
      .execute(),
  )
  const steps = await inParts(stepIds, between, (part) =>
    db.selectFrom('step').select(['id', 'piece_id', 'lot']).where('id', 'in', part).execute(),
  )
  return {
    glueUps: new Set(glued.map((row) => row.from_step_id)),
    lotOf: new Map(steps.map((row) => [row.id, `${row.piece_id}/${row.lot}`])),
  }
}

/** What follows what among the steps that these lead to, and the least minutes in between. */
export const followsLogged = (
  db: Db,
  stepIds: readonly string[],
  between: Between,
): Promise<{ readonly fromStep: string; readonly toStep: string; readonly minMin: number }[]> =>
  inParts(stepIds, between, (part) =>
    db
      .selectFrom('lag')
      .select(['from_step_id as fromStep', 'to_step_id as toStep', 'min_min as minMin'])
      .where('to_step_id', 'in', part)
      .execute(),
  )

/** How many pieces these steps are of. */
export async function piecesBegun(db: Db, stepIds: readonly string[], between: Between): Promise<number> {
  const pieces = await inParts(stepIds, between, (part) =>
    db
      .selectFrom('step')
      .innerJoin('piece', 'piece.id', 'step.piece_id')
      .select(['piece.id', 'piece.count'])
      .where('step.id', 'in', part)
      .execute(),
  )
  return [...new Map(pieces.map(({ id, count }) => [id, count])).values()].reduce((all, count) => all + count, 0)
}

async function inParts<T>(
  ids: readonly string[],
  between: Between,
  read: (part: readonly string[]) => Promise<readonly T[]>,
): Promise<T[]> {
  const all: T[] = []
  for (let at = 0; at < ids.length; at += STEPS_AT_ONCE) {
    all.push(...(await read(ids.slice(at, at + STEPS_AT_ONCE))))
    await between()
  }
  return all
}

/** The newest entries of one kind, newest first, also those that were taken back. */
export async function entriesOfAction(db: Db, action: string, count: number): Promise<LogEntry[]> {
  const rows = await db
    .selectFrom('log')
    .selectAll()
    .where('action', '=', action)
    .orderBy('id', 'desc')
    .limit(count)
    .execute()
  const takenBack = await entriesTakenBack(db)
  return rows.map((row) => entryOf(row, takenBack))
}
