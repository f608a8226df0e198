import type { StepAction, StepEntry } from '../core/book/book.ts'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { entriesTakenBack, entryOf, type LogEntry, record, type Stamp, unindexedUndoes } from './log.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/**
 * Writes down what was done at a step; answers with the number of the entry. Whether it makes sense is the caller's to
 * decide.
 * @param more the act that it belongs to, and words kept with it
 * Problem: `step-missing`.
 */
export const logStep = (
  db: Db,
  stepId: string,
  did: StepAction,
  stamp: Stamp,
  more: { readonly act?: number | undefined; readonly note?: string | undefined } = {},
): Promise<Result<number>> =>
  inTransaction(db, async (trx) => {
    const step = await trx
      .selectFrom('step')
      .innerJoin('piece', 'piece.id', 'step.piece_id')
      .select(['piece.id as piece_id', 'piece.commission_id'])
      .where('step.id', '=', stepId)
      .executeTakeFirst()
    if (step === undefined) return failed(problem('step-missing', 'This step is not in the book any more.'))
    const lastEntry = await lastEntryAt(trx, stepId)
    return ok(
      await record(trx, {
        ...stamp,
        ...more,
        commissionId: step.commission_id,
        pieceId: step.piece_id,
        stepId,
        action: `step-${did.kind}`,
        event: { kind: 'step', did, lastEntry },
      }),
    )
  })

/** Number of the newest entry at a step that counts; null when nothing was done there. */
export async function lastEntryAt(db: Db, stepId: string): Promise<number | null> {
  const takenBack = await entriesTakenBack(db)
  const rows = await db
    .selectFrom('log')
    .select('id')
    .where('step_id', '=', stepId)
    .where(unindexedUndoes, 'is', null)
    .orderBy('id', 'desc')
    .execute()
  return rows.find((row) => !takenBack.has(row.id))?.id ?? null
}

/** The entries at steps of these orders that count, by order, in the order in which they were written. */
export async function workEntriesOf(
  db: Db,
  commissionIds: readonly string[],
): Promise<ReadonlyMap<string, readonly StepEntry[]>> {
  const rows = await db
    .selectFrom('log')
    .selectAll()
    .where('commission_id', 'in', commissionIds)
    .where('step_id', 'is not', null)
    .orderBy('id')
    .execute()
  const takenBack = await entriesTakenBack(db)
  const byOrder = Map.groupBy(rows, ({ commission_id }) => commission_id ?? '')
  return new Map([...byOrder].map(([id, own]) => [id, stepEntriesOf(own.map((row) => entryOf(row, takenBack)))]))
}

/** The entries at steps among these that count, in the order in which they were written. */
export const stepEntriesOf = (entries: readonly LogEntry[]): StepEntry[] =>
  entries.flatMap((entry) =>
    entry.event.kind === 'step' && entry.stepId !== null && entry.undoes === null && entry.counts
      ? [
          {
            id: entry.id,
            atMin: Math.floor(entry.atMs / 60_000),
            stepId: entry.stepId,
            makerId: entry.makerId,
            ...(entry.pressedAtMs === undefined ? {} : { pressedAtMin: Math.floor(entry.pressedAtMs / 60_000) }),
            action: entry.event.did,
          },
        ]
      : [],
  )
