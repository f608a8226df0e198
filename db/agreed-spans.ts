import type { Standing } from '../core/book/book.ts'
import type { LocalDay } from '../core/time/local-day.ts'
import { entriesTakenBack, entryOf, type LogEntry } from './log.ts'
import type { Db } from './schema.ts'

/** From when until when an order was to be worked on: agreed, neither on hold nor closed. Minutes since the Unix epoch. */
export interface AgreedSpan {
  readonly commissionId: string
  readonly standing: Standing
  readonly from: number
  /** Null: it still is. */
  readonly to: number | null
}

const BEGINS = ['commission-agreed', 'commission-resumed', 'commission-reopened']
const ENDS = ['commission-held', 'commission-handed-over', 'commission-called-off']

/** Of all orders that were ever agreed, from what the log has of how they stood. @param startOfDay of the day that an order is on hold until */
export async function agreedSpans(db: Db, startOfDay: (day: LocalDay) => number): Promise<AgreedSpan[]> {
  const orders = await db
    .selectFrom('commission')
    .select(['id', 'standing', 'taken_at_min'])
    .where((of) => of.or([of('standing', 'in', ['agreed', 'handed-over']), of('closed_from', '=', 'agreed')]))
    .execute()
  const rows = await db
    .selectFrom('log')
    .selectAll()
    .where('action', 'in', [...BEGINS, ...ENDS])
    .orderBy('id')
    .execute()
  const takenBack = await entriesTakenBack(db)
  const counting = rows.map((row) => entryOf(row, takenBack)).filter(({ counts }) => counts)
  const entries = Map.groupBy(counting, ({ commissionId }) => commissionId)
  return orders.flatMap(({ id, standing, taken_at_min: takenAt }) => {
    const own = entries.get(id) ?? []
    const agreedAt = own.find(({ action }) => action === 'commission-agreed')?.atMs
    const agreedMin = agreedAt === undefined ? takenAt : minuteOf(agreedAt)
    return spansOf(own, agreedMin, startOfDay).map((span) => ({ commissionId: id, standing, ...span }))
  })
}

function spansOf(entries: readonly LogEntry[], agreedMin: number, startOfDay: (day: LocalDay) => number) {
  const spans: { readonly from: number; readonly to: number | null }[] = []
  let from: number | null = agreedMin
  for (const entry of entries) {
    const at = minuteOf(entry.atMs)
    if (at < agreedMin) continue
    if (BEGINS.includes(entry.action)) from = Math.min(from ?? at, at)
    else {
      if (from !== null && from < at) spans.push({ from, to: at })
      const until = heldUntil(entry)
      from = until === null ? null : startOfDay(until)
    }
  }
  return from === null ? spans : [...spans, { from, to: null }]
}

/** The day from which work may go on by itself after an entry that ends it; null: not before somebody says so. */
function heldUntil({ action, event }: LogEntry): LocalDay | null {
  if (action !== 'commission-held' || event.kind !== 'rows') return null
  const row = event.changes.find(({ table }) => table === 'commission')
  const until = row?.after?.['on_hold_until']
  return typeof until === 'string' && /^\d{4}-/.test(until) ? until : null
}

const minuteOf = (ms: number): number => Math.floor(ms / 60_000)
