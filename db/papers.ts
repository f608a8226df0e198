import type { Paper, PaperKind } from '../core/papers/paper.ts'
import { record, type Stamp } from './log.ts'
import { withDigest } from './row-digest.ts'
import { takeNumbers } from './running-number.ts'
import type { Db, PaperRow } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** Papers that a bill, its tax and a credit note go by. */
export const BILLED_BY = ['invoice', 'simplified-invoice'] as const satisfies readonly PaperKind[]

/** A paper that was handed out. */
export interface IssuedPaper {
  readonly id: string
  /** In the series of its kind, without gaps. */
  readonly number: number
  readonly commissionId: string
  readonly issuedAtMs: number
  readonly paper: Paper
  /** Id of the paper that it amends. */
  readonly amends: string | null
}

/**
 * Issues a paper under the next number of its series: number, paper and log entry together or not at all, so that a series has no gap.
 * It cannot be taken back; a mistake gets another paper that names it.
 */
export const issuePaper = (db: Db, issued: Omit<IssuedPaper, 'number'>, stamp: Stamp): Promise<IssuedPaper> =>
  inTransaction(db, async (trx) => {
    const { kind, day } = issued.paper
    const number = await takeNumbers(trx, `paper-${kind}`, 1)
    await trx
      .insertInto('paper')
      .values(
        withDigest('paper', {
          id: issued.id,
          kind,
          number,
          commission_id: issued.commissionId,
          issued_at_ms: issued.issuedAtMs,
          day,
          amends: issued.amends,
          content: JSON.stringify(issued.paper),
        }),
      )
      .execute()
    await record(trx, {
      ...stamp,
      commissionId: issued.commissionId,
      action: 'paper-issued',
      event: { kind: 'remark', detail: { paper: issued.id, kind, number } },
    })
    return { ...issued, number }
  })

/** Papers of one order, newest first. */
export async function papersOf(db: Db, commissionId: string): Promise<IssuedPaper[]> {
  const rows = await db
    .selectFrom('paper')
    .selectAll()
    .where('commission_id', '=', commissionId)
    .orderBy('issued_at_ms', 'desc')
    .orderBy('number', 'desc')
    .execute()
  return rows.map(paperOfRow)
}

/**
 * Credit notes that still lower what an order owes, oldest first. One that amends an earlier invoice does not: the newer invoice says
 * everything anew.
 */
export async function standingCredits(db: Db, commissionIds?: readonly string[]): Promise<IssuedPaper[]> {
  let query = db
    .selectFrom('paper')
    .selectAll()
    .where('kind', '=', 'credit-note')
    .where('amends', '=', (newest) =>
      newest
        .selectFrom('paper as invoice')
        .select('invoice.id')
        .whereRef('invoice.commission_id', '=', 'paper.commission_id')
        .where('invoice.kind', 'in', BILLED_BY)
        .orderBy('invoice.issued_at_ms', 'desc')
        .orderBy('invoice.number', 'desc')
        .limit(1),
    )
    .orderBy('number')
  if (commissionIds !== undefined) query = query.where('commission_id', 'in', commissionIds)
  return (await query.execute()).map(paperOfRow)
}

/** Every invoice of these orders, simplified or not, as it was issued, oldest first. */
export async function invoicesIssued(db: Db, commissionIds: readonly string[]): Promise<IssuedPaper[]> {
  if (commissionIds.length === 0) return []
  const rows = await db
    .selectFrom('paper')
    .selectAll()
    .where('kind', 'in', BILLED_BY)
    .where('commission_id', 'in', commissionIds)
    .orderBy('issued_at_ms')
    .orderBy('number')
    .execute()
  return rows.map(paperOfRow)
}

export async function paperById(db: Db, id: string): Promise<IssuedPaper | null> {
  const row = await db.selectFrom('paper').selectAll().where('id', '=', id).executeTakeFirst()
  return row === undefined ? null : paperOfRow(row)
}

const paperOfRow = (row: PaperRow): IssuedPaper => ({
  id: row.id,
  number: row.number,
  commissionId: row.commission_id,
  issuedAtMs: row.issued_at_ms,
  paper: JSON.parse(row.content) as Paper,
  amends: row.amends,
})
