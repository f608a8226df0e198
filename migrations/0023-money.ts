import { type Kysely, sql } from 'kysely'

/**
 * What is kept of a canceled order's payments, where the maker says another sum than the proposal; parts that were cut and whose wood is
 * lost stay with the board that they came out of, so that it stays paid by the order that lost them.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `alter table commission add column kept_minor integer check (kept_minor >= 0)`,
    `alter table part_cut add column lost integer not null default 0 check (lost in (0, 1))`,
  ])
    await sql.raw(statement).execute(db)
}
