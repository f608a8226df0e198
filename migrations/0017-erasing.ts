import { type Kysely, sql } from 'kysely'

/**
 * Who was erased on request, and the one exception to what is never changed: while a row stands in `erasing`, within the transaction
 * that takes a person out of the book, texts may be changed in the log, papers, promises and money entries. Nothing may ever be removed.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  // A person erased may come back with an older copy: `done_at_ms` null says that it is to be done again.
  `create table erasure (
    customer_id text not null primary key,
    asked_at_ms integer not null,
    done_at_ms integer
  ) strict`,
  `create table erasing (started_at_ms integer not null) strict`,
  ...(
    [
      ['log_keeps_its_entries', 'log', 'the log is never changed, only added to'],
      ['promise_is_never_changed', 'promise', 'a promise is never changed, another one is given'],
      ['money_entry_stays', 'money_entry', 'Money is never changed: take it back with another entry'],
      ['paper_stays', 'paper', 'A paper that was issued is never changed'],
    ] as const
  ).flatMap(([trigger, table, why]) => [
    `drop trigger ${trigger}`,
    `create trigger ${trigger} before update on ${table}
      when not exists (select 1 from erasing)
      begin select raise(abort, '${why}'); end`,
  ]),
]
