import { type Kysely, sql } from 'kysely'

/** Constructions of the maker's own: what is asked, parts and steps with their formulas, as one document each. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql
    .raw(
      `create table own_construction (
        id text not null primary key check (id like 'own-_%'),
        position integer not null check (position >= 0),
        name text not null check (name <> ''),
        definition text not null check (json_type(definition) = 'object')
      ) strict`,
    )
    .execute(db)
}
