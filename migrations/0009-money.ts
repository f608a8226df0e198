import { type Kysely, sql } from 'kysely'

/**
 * Money as entries that are never changed, papers that are never changed, what prices go by, and the decimals of the shop's currency,
 * which are no longer asked from the system: amounts that are in the file were written with the ones that it has now.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
  const { rows } = await sql<{ currency: string }>`select currency from shop`.execute(db)
  for (const { currency } of rows) {
    const { maximumFractionDigits } = new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions()
    await sql`update shop set currency_decimals = ${maximumFractionDigits ?? 2}`.execute(db)
  }
}

const STATEMENTS: readonly string[] = [
  `alter table shop add column currency_decimals integer check (currency_decimals between 0 and 4)`,
  `create table money_fact (
    name text not null primary key,
    value text not null check (json_valid(value))
  ) strict`,

  `create table money_entry (
    id text not null primary key,
    commission_id text not null references commission (id) deferrable initially deferred,
    at_ms integer not null,
    day text not null check (day glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    kind text not null check (kind in ('payment', 'refund', 'write-off', 'tip', 'cash-rounding')),
    minor integer not null check (minor > 0 or (kind = 'cash-rounding' and minor <> 0)),
    how text not null check (how in ('cash', 'check', 'card', 'transfer', 'other')),
    reference text not null,
    takes_back text unique references money_entry (id) deferrable initially deferred,
    check (takes_back <> id)
  ) strict`,
  `create index money_entry_by_commission on money_entry (commission_id, at_ms)`,
  `create index money_entry_by_day on money_entry (day)`,
  `create trigger money_entry_stays before update on money_entry
    begin select raise(abort, 'Money is never changed: take it back with another entry'); end`,
  // What was written as the deposit of an order was money received.
  `insert into money_entry (id, commission_id, at_ms, day, kind, minor, how, reference)
    select 'deposit-' || id, id, taken_at_min * 60000, date(taken_at_min * 60, 'unixepoch'), 'payment', deposit_minor,
      case when lower(deposit_how) in ('cash', 'check', 'card', 'transfer') then lower(deposit_how) else 'other' end,
      case when lower(deposit_how) in ('cash', 'check', 'card', 'transfer') then '' else deposit_how end
    from commission where deposit_minor > 0`,

  `create table paper (
    id text not null primary key,
    kind text not null,
    number integer not null check (number > 0),
    commission_id text not null references commission (id) deferrable initially deferred,
    issued_at_ms integer not null,
    day text not null check (day glob '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    amends text references paper (id),
    content text not null check (json_valid(content)),
    unique (kind, number)
  ) strict`,
  `create index paper_by_commission on paper (commission_id, issued_at_ms)`,
  `create index paper_by_amended on paper (amends)`,
  `create trigger paper_stays before update on paper
    begin select raise(abort, 'A paper that was issued is never changed'); end`,
  `create trigger paper_remains before delete on paper
    begin select raise(abort, 'A paper that was issued is never removed'); end`,

  `alter table commission add column untaxed_why text not null default ''`,
  `alter table commission add column extra_lines text not null default '[]' check (json_valid(extra_lines))`,
]
