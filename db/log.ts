import { type Selectable, sql } from 'kysely'
import type { StepAction } from '../core/book/book.ts'
import { checksumOf } from './log-chain.ts'
import type { Cells, ChangeableTable, RowChange } from './row-changes.ts'
import type { Db } from './schema.ts'
import type { LogTable } from './order-tables.ts'
import { writtenFrom } from './written-from.ts'

/** Who wrote an entry and when. */
export interface Stamp {
  readonly atMs: number
  readonly makerId: string | null
  /** When it was pressed, where that is not the instant that it is about. */
  readonly pressedAtMs?: number
}

/** What an entry is about; null where it is about none or several. */
export interface Subject {
  readonly commissionId: string | null
  readonly pieceId: string | null
  readonly stepId: string | null
}

/** History. */
export type Event =
  /** Rows were made, changed or removed. */
  | { readonly kind: 'rows'; readonly changes: readonly RowChange[] }
  /** Something was done at a step, whose state follows from these; `lastEntry` is the last one there that counted before. */
  | { readonly kind: 'step'; readonly did: StepAction; readonly lastEntry: number | null }
  /** Nothing that the store keeps elsewhere: a paper was printed, a message sent. */
  | { readonly kind: 'remark'; readonly detail: unknown }

/** A row as it was found, cell by cell, when it was no longer as the log had it; no cells: it was gone. Reads as a remark. */
export interface FoundRow {
  readonly table: ChangeableTable
  readonly key: Cells
  readonly cells: Cells | null
}

export interface LogEntry extends Stamp, Subject {
  readonly id: number
  /** A name of its own for what it was: `commission-taken`, `step-done`, `taken-back`. */
  readonly action: string
  /** History. Of an entry that takes back: the rows' way back, or what was taken back at the step. */
  readonly event: Event
  /** The entry that this one takes back. */
  readonly undoes: number | null
  /** Not taken back, or taken back and put back again. */
  readonly counts: boolean
  /** First entry of the act that it belongs to, its own number when it is that or alone. */
  readonly act: number
  /** Words kept with it; empty: none. */
  readonly note: string
  /** Name of the phone or tablet that it was pressed on; null: the desk itself. */
  readonly device: string | null
}

export interface NewEntry extends Stamp, Partial<Subject> {
  readonly action: string
  readonly event: Event | { readonly kind: 'found'; readonly rows: readonly FoundRow[] }
  readonly undoes?: number
  /** Number of the first entry of the act that it goes on with. */
  readonly act?: number | undefined
  readonly note?: string | undefined
  /** By which it is known when it is sent again; absent: the key of the press that is being written for, if there is one. */
  readonly pressKey?: string | undefined
}

/** Writes an entry and answers with its number. The caller makes the changes that it tells of, in the same transaction. */
export async function record(db: Db, entry: NewEntry): Promise<number> {
  const from = writtenFrom()
  const row = {
    at_ms: entry.atMs,
    maker_id: entry.makerId,
    commission_id: entry.commissionId ?? null,
    piece_id: entry.pieceId ?? null,
    step_id: entry.stepId ?? null,
    action: entry.action,
    ...sidesOf(entry.event),
    undoes: entry.undoes ?? null,
    pressed_at_ms: entry.pressedAtMs ?? null,
    act: entry.act ?? null,
    note: entry.note === undefined || entry.note === '' ? null : entry.note,
    ...{ device: from?.device ?? null, press_key: entry.pressKey ?? from?.pressKey ?? null },
  }
  const last = await db.selectFrom('log').select('checksum').orderBy('id', 'desc').limit(1).executeTakeFirst()
  const { id } = await db
    .insertInto('log')
    .values({ ...row, checksum: checksumOf(row, last?.checksum ?? null) })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Everything that was ever written about a commission, its pieces and steps, oldest first, with what was taken back. */
export async function entriesOf(db: Db, commissionId: string): Promise<LogEntry[]> {
  const rows = await db.selectFrom('log').selectAll().where('commission_id', '=', commissionId).orderBy('id').execute()
  const takenBack = await entriesTakenBack(db)
  return rows.map((row) => entryOf(row, takenBack))
}

/** The newest entries about anything, newest first. */
export async function latestEntries(db: Db, count: number): Promise<LogEntry[]> {
  const rows = await db.selectFrom('log').selectAll().orderBy('id', 'desc').limit(count).execute()
  const takenBack = await entriesTakenBack(db)
  return rows.map((row) => entryOf(row, takenBack))
}

export async function entryById(db: Db, id: number): Promise<LogEntry | null> {
  const row = await db.selectFrom('log').selectAll().where('id', '=', id).executeTakeFirst()
  return row === undefined ? null : entryOf(row, await entriesTakenBack(db))
}

/** The number of the newest entry; 0: there is none. */
export async function lastEntryId(db: Db): Promise<number> {
  const row = await db.selectFrom('log').select('id').orderBy('id', 'desc').limit(1).executeTakeFirst()
  return row?.id ?? 0
}

/** Whether anything but work at orders that are still open was written down after an entry. */
export async function isMoreThanWorkSince(db: Db, after: number): Promise<boolean> {
  const row = await db
    .selectFrom('log')
    .leftJoin('commission', 'commission.id', 'log.commission_id')
    .select('log.id')
    .where('log.id', '>', after)
    .where((of) =>
      of.or([
        of('log.step_id', 'is', null),
        of('commission.standing', 'is', null),
        of('commission.standing', 'not in', ['asked-about', 'agreed']),
      ]),
    )
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}

/** Orders about which something was written down after an entry. */
export async function ordersSince(db: Db, after: number): Promise<string[]> {
  // Told apart here: SQLite would walk through the whole index for it.
  const rows = await db.selectFrom('log').select('commission_id').where('id', '>', after).execute()
  return [...new Set(rows.flatMap(({ commission_id }) => commission_id ?? []))]
}

/** Whether something failed, or was no longer said to have failed, after an entry. */
export async function failureSince(db: Db, after: number): Promise<boolean> {
  const row = await db
    .selectFrom('log')
    .leftJoin('log as undone', 'undone.id', 'log.undoes')
    .select('log.id')
    .where('log.id', '>', after)
    .where((of) =>
      of.or([of('log.action', '=', 'step-failed'), of('undone.action', 'in', ['step-failed', 'taken-back'])]),
    )
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}

/** All entries of an act, newest first: they are taken back together, in this order. @param act its first entry */
export async function entriesOfAct(db: Db, act: number): Promise<LogEntry[]> {
  const [first, more] = [
    await db.selectFrom('log').selectAll().where('id', '=', act).execute(),
    await db.selectFrom('log').selectAll().where('act', '=', act).orderBy('id', 'desc').execute(),
  ]
  const takenBack = await entriesTakenBack(db)
  return [...more, ...first].map((row) => entryOf(row, takenBack))
}

/**
 * Numbers of the entries that don't count. An entry that takes back may be taken back itself, so what counts is decided
 * from the newest to the oldest.
 */
export async function entriesTakenBack(db: Db): Promise<ReadonlySet<number>> {
  const rows = await db.selectFrom('log').select(['id', 'undoes']).where('undoes', 'is not', null).execute()
  const takenBack = new Set<number>()
  for (const row of rows.sort((a, b) => b.id - a.id))
    if (row.undoes !== null && !takenBack.has(row.id)) takenBack.add(row.undoes)
  return takenBack
}

/**
 * The column `undoes` where another one is the way to the rows: nearly every entry takes nothing back, so that the index on
 * it finds nearly all of the log.
 */
export const unindexedUndoes = sql<number | null>`+undoes`

export const entryOf = (row: Selectable<LogTable>, takenBack: ReadonlySet<number>): LogEntry => ({
  id: row.id,
  atMs: row.at_ms,
  makerId: row.maker_id,
  ...(row.pressed_at_ms === null ? {} : { pressedAtMs: row.pressed_at_ms }),
  commissionId: row.commission_id,
  pieceId: row.piece_id,
  stepId: row.step_id,
  action: row.action,
  event: eventOf(row),
  undoes: row.undoes,
  counts: !takenBack.has(row.id),
  act: row.act ?? row.id,
  note: row.note ?? '',
  device: row.device ?? null,
})

/** One side of an event as it is stored: what was before it, or what is after it. */
interface Side {
  readonly rows?: readonly { readonly table: ChangeableTable; readonly key: Cells; readonly cells: Cells }[]
  readonly step?: { readonly did?: StepAction; readonly lastEntry?: number | null }
  readonly remark?: unknown
}

function sideOf(text: string | null): Side | null {
  try {
    return (text === null ? {} : JSON.parse(text)) as Side | null
  } catch {
    return null
  }
}

function sidesOf(event: NewEntry['event']): { before: string | null; after: string | null } {
  switch (event.kind) {
    case 'rows': {
      const side = (which: 'before' | 'after'): Side => ({
        rows: event.changes.flatMap(({ table, key, [which]: cells }) =>
          cells === null ? [] : [{ table, key, cells }],
        ),
      })
      return { before: JSON.stringify(side('before')), after: JSON.stringify(side('after')) }
    }
    case 'step':
      return {
        before: JSON.stringify({ step: { lastEntry: event.lastEntry } } satisfies Side),
        after: JSON.stringify({ step: { did: event.did } } satisfies Side),
      }
    case 'found':
      return { before: null, after: JSON.stringify({ rows: event.rows }) }
    case 'remark':
      return { before: null, after: JSON.stringify({ remark: event.detail } satisfies Side) }
  }
}

/** An entry that is damaged takes nothing with it: it reads as a remark that nothing can be told of, and cannot be taken back. */
function eventOf(row: Selectable<LogTable>): Event {
  const [before, after] = [sideOf(row.before), sideOf(row.after)]
  if (before === null || after === null) return { kind: 'remark', detail: null }
  const did = after.step?.did
  if (did !== undefined) return { kind: 'step', did, lastEntry: before.step?.lastEntry ?? null }
  if (row.before === null || (before.rows === undefined && after.rows === undefined))
    return { kind: 'remark', detail: after.remark ?? null }
  const changes = new Map<string, RowChange>()
  for (const { table, key, cells } of before.rows ?? [])
    changes.set(JSON.stringify([table, key]), { table, key, before: cells, after: null })
  for (const { table, key, cells } of after.rows ?? []) {
    const name = JSON.stringify([table, key])
    changes.set(name, { table, key, before: changes.get(name)?.before ?? null, after: cells })
  }
  return { kind: 'rows', changes: [...changes.values()] }
}
