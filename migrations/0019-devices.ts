import { type Kysely, sql } from 'kysely'

/** On which phone or tablet an entry was pressed, and the key by which a press that is sent twice is known. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  `alter table log add column device text check (device <> '')`,
  `alter table log add column press_key text check (length(press_key) between 8 and 64)`,
  `create index log_by_press_key on log (press_key) where press_key is not null`,
]
