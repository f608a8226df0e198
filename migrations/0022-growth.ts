import { type Kysely, sql } from 'kysely'

/** The trigger that guards the log asked one question with "or", for which SQLite walks through the whole log at every press. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`drop trigger log_replaces_no_entry`.execute(db)
  await sql`create trigger log_replaces_no_entry before insert on log
      when exists (select 1 from log where id = new.id) or exists (select 1 from log where undoes = new.undoes)
      begin select raise(abort, 'the log is never changed, only added to'); end`.execute(db)
}
