import { type Kysely, sql } from 'kysely'

/**
 * Every day that was given or quoted, with its chance as worked out then. Only ever added to; whether a record counts follows
 * from its log entry. Promises of before have a record too, with a chance that nobody knows.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  // No reference to the commission: an order that was taken back leaves its record here, as it does its entry in the log.
  `create table promise (
    id integer primary key autoincrement,
    entry integer references log (id),
    commission_id text not null,
    kind text not null check (kind in ('promise', 'quote')),
    given_at_ms integer not null,
    day text check (kind = 'promise' or day is not null),
    chance real check (chance between 0 and 1),
    half_day text,
    four_in_five_day text,
    nineteen_in_twenty_day text,
    planned_day text,
    offer text check (offer in ('keeps-every-promise', 'soonest', 'with-more', 'own-day')),
    offer_takes text not null,
    times text not null check (times in ('book', 'learned')),
    wanted_by text not null check (wanted_by in ('customer', 'maker')),
    why text not null,
    good_until text check ((kind = 'quote') = (good_until is not null))
  ) strict`,
  `create index promise_of_commission on promise (commission_id)`,
  `create index promise_of_entry on promise (entry)`,
  `insert into promise
      (entry, commission_id, kind, given_at_ms, day, offer_takes, times, wanted_by, why)
    select null, commission.id, 'promise',
      coalesce(
        (select max(at_ms) from log
          where commission_id = commission.id and action in ('commission-taken', 'commission-agreed')),
        taken_at_min * 60000),
      promised_for, '', 'book', 'customer', ''
    from commission where promised_for is not null order by number`,
  `create trigger promise_is_never_changed before update on promise
    begin select raise(abort, 'a promise is never changed, another one is given'); end`,
  `create trigger promise_is_never_lost before delete on promise
    begin select raise(abort, 'a promise is never removed'); end`,
  // "insert or replace" would delete without asking the trigger above.
  `create trigger promise_replaces_none before insert on promise
    when exists (select 1 from promise where id = new.id)
    begin select raise(abort, 'a promise is never changed, another one is given'); end`,
]
