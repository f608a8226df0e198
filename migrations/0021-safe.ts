import { type Kysely, sql } from 'kysely'

/** A digest in every row of which the log has no copy, so that a digit or a letter changed by a failing disk is seen. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const table of ['draft', 'paper', 'photo', 'promise'])
    await sql.raw(`alter table ${table} add column digest text`).execute(db)
}
