import { type Kysely, sql } from 'kysely'

/** How long a glue-up takes from the first glue to full pressure. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql.raw('alter table step add column spread_min integer check (spread_min >= 0)').execute(db)
}
