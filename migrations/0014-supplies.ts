import { type Kysely, sql } from 'kysely'

/** Where each order's wood comes from and since when it rests, whom a board was bought for, and what is in stock beside wood. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  `alter table commission add column lumber_from text not null default 'counted'
    check (lumber_from in ('counted', 'shop', 'yard', 'customer'))`,
  `alter table commission add column lumber_expected_on text`,
  `alter table commission add column lumber_here_on text`,
  `alter table commission add column lumber_rested integer not null default 0 check (lumber_rested in (0, 1))`,

  // Null: for longer than anybody asks.
  `alter table board add column here_since text`,
  // Outlives the order, like the parts that were cut.
  `alter table board add column bought_for text`,

  // Glue, finish and hardware. One of the almanac's products has a row once something is said of its stock.
  `create table supply (
    id text not null primary key,
    position integer not null check (position >= 0),
    name text not null,
    kind text not null check (kind in ('glue', 'finish', 'hardware', 'other')),
    product_id text,
    unit text not null,
    amount real check (amount >= 0),
    reorder_at real check (reorder_at >= 0),
    out_since text,
    expected_on text,
    check (expected_on is null or out_since is not null)
  ) strict`,
  `create unique index supply_by_product on supply (kind, product_id) where product_id is not null`,
]
