import type { StepEntry } from '../core/book/book.ts'
import type { LoggedStep } from '../core/learning/index.ts'
import { entriesTakenBack, entryOf, type LogEntry } from './log.ts'
import type { Db } from './schema.ts'
import { stepEntriesOf } from './steps.ts'

/** What was ever worked on, of all orders, with every entry about it that counts, oldest first. */
export interface WorkLogged {
  readonly steps: readonly (LoggedStep & {
    readonly number: number
    readonly title: string
    readonly construction: string
  })[]
  readonly entries: readonly StepEntry[]
}

export async function workLogged(db: Db): Promise<WorkLogged> {
  const steps = await db
    .selectFrom('step')
    .innerJoin('piece', 'piece.id', 'step.piece_id')
    .innerJoin('commission', 'commission.id', 'piece.commission_id')
    .select(['step.id', 'operation', 'step.name', 'minutes', 'units', 'unit_min', 'set_up_family', 'set_up_min'])
    .select(['piece.commission_id', 'piece.title', 'piece.construction', 'commission.number'])
    .where('step.id', 'in', (of) =>
      of.selectFrom('log').select('step_id').where('step_id', 'is not', null).$castTo<{ step_id: string }>(),
    )
    .orderBy('step.id')
    .execute()
  const rows = await db.selectFrom('log').selectAll().where('step_id', 'is not', null).orderBy('id').execute()
  const takenBack = await entriesTakenBack(db)
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
    entries: stepEntriesOf(rows.map((row) => entryOf(row, takenBack))),
  }
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
