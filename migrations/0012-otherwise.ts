import { type Kysely, sql } from 'kysely'

/**
 * When the work goes otherwise: several entries that are one act and are taken back together, words kept with an entry (who asked for a
 * change, what went wrong), and steps whose result is lost while their hours stay counted.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    // The first entry of the act; null: of an entry that is an act by itself, or the first of one.
    `alter table log add column act integer`,
    `create index log_by_act on log (act) where act is not null`,
    `alter table log add column note text`,
    `alter table step add column lost integer not null default 0 check (lost in (0, 1))`,
  ])
    await sql.raw(statement).execute(db)
}
