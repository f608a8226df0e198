import { type Kysely, sql } from 'kysely'

/** How the shop is heated, its unheated air by month, and the customer's home; null where it is as built in. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  `alter table shop add column heated text check (heated in ('always', 'for-work'))`,
  `alter table shop add column warm_up_min integer check (warm_up_min >= 0)`,
  `alter table shop add column cool_down_min integer check (cool_down_min >= 0)`,
  `alter table shop add column home_dry_c real`,
  `alter table shop add column home_dry_rh real check (home_dry_rh between 0 and 1)`,
  `alter table shop add column home_damp_c real`,
  `alter table shop add column home_damp_rh real check (home_damp_rh between 0 and 1)`,
  `create table unheated_month (
    month integer not null primary key check (month between 1 and 12),
    celsius real,
    rh real check (rh between 0 and 1),
    check (celsius is not null or rh is not null)
  ) strict`,
]
