import { createHash } from 'node:crypto'
import type SqliteFile from 'better-sqlite3'

const NOTED = 'tables-'

/** Notes how the tables are defined, once a change of them is over: SQLite reads a column whose name a failing disk changed without a word. */
export function noteTableDefinitions(file: SqliteFile.Database): void {
  file.prepare('delete from upkeep where task like ?').run(`${NOTED}%`)
  file.prepare('insert into upkeep values (?, 0)').run(NOTED + digestOfDefinitions(file))
}

/** Whether the tables are no longer defined as was noted; false where nothing was. */
export function areDefinitionsDamaged(file: SqliteFile.Database): boolean {
  const noted = file.prepare('select task from upkeep where task like ?').pluck().get(`${NOTED}%`)
  return noted !== undefined && noted !== NOTED + digestOfDefinitions(file)
}

function digestOfDefinitions(file: SqliteFile.Database): string {
  const definitions = file
    .prepare(`select name, sql from sqlite_schema where type = 'table' and name not like 'sqlite_%' order by name`)
    .all()
  return createHash('sha256').update(JSON.stringify(definitions)).digest('base64url').slice(0, 22)
}
