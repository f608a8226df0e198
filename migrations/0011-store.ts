import { type Kysely, sql } from 'kysely'

/** What keeps a press as quick after ten years as on the first day, and what tells that an entry of the log is as it was written. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  // What was done lately at any step, whatever its order.
  `create index log_by_instant on log (at_ms) where step_id is not null`,
  // Closed orders are read page by page, newest first.
  `create index commission_by_standing_and_number on commission (standing, number)`,
  `drop index commission_by_standing`,
  // Over this entry and the checksum of the one before. Entries from before there were any have none.
  `alter table log add column checksum text`,
]
