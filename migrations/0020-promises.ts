import { type Kysely, sql } from 'kysely'

/** The chance of a promised day if no order were taken later, beside the one that was stated; null for promises given before this. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql.raw('alter table promise add column chance_alone real check (chance_alone between 0 and 1)').execute(db)
}
