import { type Kysely, sql } from 'kysely'

/** What only the maker can say of a year, for the page that adds it up. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  `create table year_figure (
    year integer not null check (year between 2000 and 2199),
    name text not null check (name in ('inventory-begin', 'purchases', 'own-use', 'paid-help', 'supplies', 'other-costs',
      'inventory-end', 'overhead-spent')),
    minor integer not null check (minor >= 0),
    primary key (year, name)
  ) strict`,
]
