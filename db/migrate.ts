import type SqliteFile from 'better-sqlite3'
import type { Kysely } from 'kysely'
import { type Migration, Migrator } from 'kysely/migration'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { migrations as ours } from '../migrations/index.ts'
import { danglingReferences } from './damaged-rows.ts'
import { damagedCells, recordRowsFound } from './rows-found.ts'
import type { Db } from './schema.ts'

/**
 * Runs the migrations that a file lacks, all in one transaction: either it ends at the last of them with every reference
 * intact, or it is as it was. Foreign keys must be off on the connection.
 */
export async function migrate<T>(
  db: Kysely<T>,
  file: SqliteFile.Database,
  migrations: Readonly<Record<string, Migration>>,
): Promise<Result<void>> {
  const migrator = new Migrator({
    db,
    provider: { getMigrations: async () => withReferencesChecked(file, migrations) },
    // The default order follows the machine's language.
    nameComparator: (a, b) => (a < b ? -1 : a > b ? 1 : 0),
  })
  const { error, results } = await migrator.migrateToLatest()
  if (error === undefined) return ok(undefined)
  const at = results?.find((result) => result.status === 'Error')?.migrationName
  const why = error instanceof Error ? error.message : String(error)
  return failed(
    problem(
      'upgrade-failed',
      `The shop's file could not be brought to this version${at === undefined ? '' : ` (at ${at})`}: ${why}. ` +
        `It is as it was before, and a backup of it was made. The version that wrote it still opens it.`,
    ),
  )
}

/**
 * A migration that leaves a row pointing at nothing fails, and with it everything of this run. What migrations did to rows is taken into
 * the log after the last of them.
 */
function withReferencesChecked(
  file: SqliteFile.Database,
  migrations: Readonly<Record<string, Migration>>,
): Record<string, Migration> {
  const names = Object.keys(migrations)
  const endsAtOurs = Object.keys(ours).every((name) => names.includes(name))
  let damagedBefore: ReadonlySet<string> | undefined
  return Object.fromEntries(
    Object.entries(migrations).map(([name, migration]) => [
      name,
      {
        up: async (db) => {
          if (endsAtOurs) damagedBefore ??= damagedCells(file)
          await migration.up(db)
          const [first] = danglingReferences(file)
          if (first !== undefined) throw new Error(first)
          if (damagedBefore !== undefined && name === names.at(-1)) await recordRowsFound(db as Db, file, damagedBefore)
        },
      } satisfies Migration,
    ]),
  )
}
