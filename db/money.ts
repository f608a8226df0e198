import { sql } from 'kysely'
import type { EnteredMoney, MoneyEntry } from '../core/money/ledger.ts'
import { change } from './change.ts'
import type { Stamp } from './log.ts'
import { standingCredits, type IssuedPaper } from './papers.ts'
import type { RowChange } from './row-changes.ts'
import type { Db, MoneyEntryRow } from './schema.ts'

/** What was paid, given back, written off or credited for these orders, or for all, oldest first. */
export async function moneyOf(db: Db, commissionIds?: readonly string[]): Promise<MoneyEntry[]> {
  if (commissionIds?.length === 0) return []
  // As they were written down: what was entered together has one instant.
  let query = db
    .selectFrom('money_entry')
    .selectAll()
    .orderBy('at_ms')
    .orderBy(sql`rowid`)
  if (commissionIds !== undefined) query = query.where('commission_id', 'in', commissionIds)
  const entered = (await query.execute()).map(entryOfRow)
  const credits = (await standingCredits(db, commissionIds)).flatMap(creditOfPaper)
  return credits.length === 0 ? entered : [...entered, ...credits].toSorted((a, b) => a.atMs - b.atMs)
}

/** Writes entries down, with one line in the log. */
export const enterMoney = (
  db: Db,
  entries: readonly EnteredMoney[],
  action: 'money-entered' | 'money-taken-back',
  stamp: Stamp,
): Promise<number | null> =>
  change(db, entries.map(additionOf), { ...stamp, commissionId: entries[0]?.commissionId ?? null, action })

/** Whether an order would have given back more than it was paid, were these changes made: what stands against them. */
export async function givesBackTooMuch(db: Db, changes: readonly RowChange[]): Promise<boolean> {
  const gone = changes.filter(({ table, after }) => table === 'money_entry' && after === null)
  const ids = new Set(gone.map(({ key }) => key['id']))
  const orders = new Set(gone.map(({ before }) => String(before?.['commission_id'])))
  for (const order of orders) {
    const left = (await moneyOf(db, [order])).filter(({ id }) => !ids.has(id))
    const takenBack = new Set(left.map(({ takesBack }) => takesBack))
    const paid = left.reduce((sum, { id, kind, minor, takesBack }) => {
      if (takesBack !== null || takenBack.has(id)) return sum
      return kind === 'payment' ? sum + minor : kind === 'refund' ? sum - minor : sum
    }, 0)
    if (paid < 0) return true
  }
  return false
}

/** An entry as a row that is new. */
export const additionOf = (entry: EnteredMoney): RowChange => ({
  table: 'money_entry',
  key: { id: entry.id },
  before: null,
  after: {
    id: entry.id,
    commission_id: entry.commissionId,
    at_ms: entry.atMs,
    day: entry.day,
    kind: entry.kind,
    minor: entry.minor,
    how: entry.how,
    reference: entry.reference,
    takes_back: entry.takesBack,
  },
})

const creditOfPaper = ({ id, commissionId, issuedAtMs, number, paper }: IssuedPaper): MoneyEntry[] =>
  paper.bill === undefined
    ? []
    : [
        {
          ...{ id, commissionId, atMs: issuedAtMs, day: paper.day, kind: 'credit', minor: paper.bill.totalMinor },
          ...{ how: 'other', reference: `no. ${number}`, takesBack: null },
        },
      ]

const entryOfRow = (row: MoneyEntryRow): MoneyEntry => ({
  id: row.id,
  commissionId: row.commission_id,
  atMs: row.at_ms,
  day: row.day,
  kind: row.kind,
  minor: row.minor,
  how: row.how,
  reference: row.reference,
  takesBack: row.takes_back,
})
