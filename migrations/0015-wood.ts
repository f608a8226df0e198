import { type Kysely, sql } from 'kysely'

/** Places that plans may count on, and what waits really take in this shop. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `alter table drying_place add column in_plans integer not null default 0 check (in_plans in (0, 1))`,
    `create table own_wait (
      product text not null,
      wait text not null check (wait in ('curing', 'drying', 'resting')),
      use text not null check (use in ('own', 'label')),
      factor real not null check (factor > 0),
      count integer not null check (count >= 0),
      primary key (product, wait)
    ) strict`,
  ]) {
    await sql.raw(statement).execute(db)
  }
}
