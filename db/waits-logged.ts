import type { StepEntry } from '../core/book/book.ts'
import type { LoggedWait } from '../core/learning/waits-taken.ts'
import { entriesTakenBack, entryOf } from './log.ts'
import type { Db } from './schema.ts'
import { stepEntriesOf } from './steps.ts'

/** Waits of all orders at which somebody looked, and every entry at their steps that counts, oldest first. */
export async function waitsLogged(
  db: Db,
): Promise<{ readonly waits: readonly LoggedWait[]; readonly entries: readonly StepEntry[] }> {
  const lookedAt = await db
    .selectFrom('log')
    .select('step_id')
    .distinct()
    .where('action', 'in', ['step-still-tacky', 'step-found-ready'])
    .where('step_id', 'is not', null)
    .execute()
  const ids = lookedAt.flatMap(({ step_id }) => (step_id === null ? [] : [step_id]))
  if (ids.length === 0) return { waits: [], entries: [] }
  const lags = await db
    .selectFrom('lag')
    .select(['from_step_id', 'to_step_id', 'wait', 'product', 'min_min'])
    .where('to_step_id', 'in', ids)
    .where('product', 'is not', null)
    .where('min_min', '>', 0)
    .orderBy('piece_id')
    .orderBy('position')
    .execute()
  const waits = lags.flatMap(({ from_step_id, to_step_id, wait, product, min_min }) =>
    product === null || wait === 'none' || wait === 'in-clamps'
      ? []
      : [{ fromStep: from_step_id, toStep: to_step_id, wait, product, minMin: min_min }],
  )
  const steps = [...new Set(waits.flatMap(({ fromStep, toStep }) => [fromStep, toStep]))]
  if (steps.length === 0) return { waits: [], entries: [] }
  const rows = await db.selectFrom('log').selectAll().where('step_id', 'in', steps).orderBy('id').execute()
  const takenBack = await entriesTakenBack(db)
  return { waits, entries: stepEntriesOf(rows.map((row) => entryOf(row, takenBack))) }
}
