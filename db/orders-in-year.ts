import { sql } from 'kysely'
import { entriesTakenBack } from './log.ts'
import type { Db } from './schema.ts'

/** A year of the shop: its first instant and the first of the next one, and the same as local days, `YYYY-MM-DD`. */
export interface YearSpan {
  readonly fromMs: number
  readonly toMs: number
  readonly firstDay: string
  readonly lastDay: string
}

/**
 * Orders of which a year may have something to tell: money in it, taken, agreed, worked on or closed in it, open now, or paid before its end
 * and not closed by then. Some more are among them; what nothing is told of is never left out.
 */
export async function ordersInYear(db: Db, { fromMs, toMs, firstDay, lastDay }: YearSpan): Promise<string[]> {
  const { rows } = await sql<{ id: string }>`
    select id from commission where standing in ('asked-about', 'agreed')
    union select id from commission where taken_at_min >= ${Math.floor(fromMs / 60_000)} and taken_at_min < ${Math.ceil(toMs / 60_000)}
    union select commission_id from money_entry where day between ${firstDay} and ${lastDay}
    union select commission_id from paper where day between ${firstDay} and ${lastDay}
    union select commission_id from log
      where action in ('commission-agreed', 'commission-handed-over', 'commission-called-off')
        and at_ms >= ${fromMs} and at_ms < ${toMs}
    -- Held over the end of the year: paid by then, closed later.
    union select commission_id from (
      select distinct commission_id from log
        where action in ('commission-handed-over', 'commission-called-off') and at_ms >= ${toMs}
    ) as closed_later where exists (select 1 from money_entry as paid
        where paid.commission_id = closed_later.commission_id and paid.day <= ${lastDay})
    -- Closed on a day that the log does not have.
    union select id from (
      select id from commission where standing in ('handed-over', 'called-off')
        except select commission_id from log where action in ('commission-handed-over', 'commission-called-off')
    )
  `.execute(db)
  return rows.map(({ id }) => id)
}

/** Orders at whose steps something was written down from one instant until before another. */
export async function ordersWorkedOn(db: Db, fromMs: number, toMs: number): Promise<string[]> {
  const rows = await db
    .selectFrom('log')
    .select('commission_id')
    .distinct()
    .where('step_id', 'is not', null)
    .where('at_ms', '>=', fromMs)
    .where('at_ms', '<', toMs)
    .execute()
  return rows.flatMap(({ commission_id }) => commission_id ?? [])
}

/** The number of the newest entry about each of these orders: as long as it is the same, so is everything that the log has of them. */
export async function newestEntries(db: Db, commissionIds: readonly string[]): Promise<ReadonlyMap<string, number>> {
  if (commissionIds.length === 0) return new Map()
  const rows = await db
    .selectFrom('log')
    .select((eb) => ['commission_id', eb.fn.max<number>('id').as('newest')])
    .where('commission_id', 'in', commissionIds)
    .groupBy('commission_id')
    .execute()
  return new Map(rows.map(({ commission_id, newest }) => [commission_id ?? '', newest]))
}

/** Instant in milliseconds at which the first order was agreed or taken; null: none was. */
export async function firstAgreedMs(db: Db): Promise<number | null> {
  const rows = await db
    .selectFrom('log')
    .select(['id', 'commission_id', 'at_ms'])
    .where('action', '=', 'commission-agreed')
    .orderBy('id')
    .execute()
  const takenBack = await entriesTakenBack(db)
  const agreed = new Map(rows.flatMap((row) => (takenBack.has(row.id) ? [] : [[row.commission_id, row.at_ms]])))
  const orders = await db
    .selectFrom('commission')
    .select(['id', 'taken_at_min'])
    .where('standing', '<>', 'asked-about')
    .orderBy('taken_at_min')
    // Whichever was taken first and needed no agreeing afterwards is among them.
    .limit(agreed.size + 1)
    .execute()
  const instants = orders.map((row) => agreed.get(row.id) ?? row.taken_at_min * 60_000)
  return instants.length === 0 ? null : Math.min(...instants)
}
