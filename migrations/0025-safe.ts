import { type Kysely, sql } from 'kysely'

/** A digest also in the rows that count numbers, tell which notices were shown and who was erased: the log has no copy of them either. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const table of ['running_number', 'notice_shown', 'erasure'])
    await sql.raw(`alter table ${table} add column digest text`).execute(db)
}
