import { type Kysely, sql } from 'kysely'

/** The air of the home where the pieces of one commission will live; all null: the almanac's home. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  `alter table commission add column home_dry_c real`,
  `alter table commission add column home_dry_rh real check (home_dry_rh between 0 and 1)`,
  `alter table commission add column home_damp_c real`,
  `alter table commission add column home_damp_rh real check (home_damp_rh between 0 and 1)
    check ((home_dry_c is null) = (home_damp_rh is null))
    check ((home_dry_rh is null) = (home_damp_rh is null))
    check ((home_damp_c is null) = (home_damp_rh is null))`,
]
