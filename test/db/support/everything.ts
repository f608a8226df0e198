import { sql } from 'kysely'
import { entriesTakenBack } from '../../../db/log.ts'
import type { Db } from '../../../db/schema.ts'

/** What the shop knows at this moment, row by row, without the history by which it came to be: two equal answers are one state. */
export async function stateOf(db: Db): Promise<Record<string, unknown[]>> {
  const state = await rowsOf(db, (table) => !['log', 'promise', 'running_number', 'upkeep'].includes(table))
  const takenBack = await entriesTakenBack(db)
  const entries = await db
    .selectFrom('log')
    .select(['id', 'step_id', 'after'])
    .where('undoes', 'is', null)
    .orderBy('id')
    .execute()
  return { ...state, 'done at steps': entries.filter((entry) => entry.step_id !== null && !takenBack.has(entry.id)) }
}

/** Every row of every table, history included. */
export const everythingIn = (db: Db): Promise<Record<string, unknown[]>> => rowsOf(db, () => true)

async function rowsOf(db: Db, wanted: (table: string) => boolean): Promise<Record<string, unknown[]>> {
  const tables = await sql<{ name: string }>`
    select name from pragma_table_list where schema = 'main' and type = 'table' and name not like 'sqlite_%' order by name`.execute(
    db,
  )
  const state: Record<string, unknown[]> = {}
  for (const { name } of tables.rows)
    if (wanted(name)) state[name] = sortedRows((await sql`select * from ${sql.table(name)}`.execute(db)).rows)
  return state
}

/** In whatever order they lie in the table. */
const sortedRows = (rows: readonly unknown[]): unknown[] =>
  rows
    .map((row) => [JSON.stringify(row), row] as const)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, row]) => row)
