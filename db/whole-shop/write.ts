import { createHash } from 'node:crypto'
import { sql } from 'kysely'
import type { Db } from '../schema.ts'
import { inTransaction } from '../transaction.ts'
import { FORMAT, jsonSchemaOf, tablesIn, type Cell, type Column, type WholeShop } from './form.ts'

/**
 * The whole shop as JSON text, one row a line: everything that its file holds but what is of this computer alone. The same shop
 * always gives the same text.
 */
export const writeWholeShop = (db: Db): Promise<string> =>
  inTransaction(db, async (trx) => {
    const tables: Record<string, Record<string, Cell>[]> = {}
    for (const [name, columns] of await tablesIn(trx)) {
      const { rows } = await sql<Record<string, unknown>>`select * from ${sql.table(name)} order by rowid`.execute(trx)
      tables[name] = rows.map((row) => cellsOf(row, columns))
    }
    const shop = await trx.selectFrom('shop').select(['currency', 'currency_decimals']).executeTakeFirst()
    const done = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(trx)
    return textOf({
      format: FORMAT,
      migrations: done.rows.map(({ name }) => name),
      currency: { code: shop?.currency ?? 'USD', decimals: shop?.currency_decimals ?? 2 },
      tables,
      sha256: checksumOfTables(tables),
    })
  })

/** The JSON Schema of what `writeWholeShop` gives. */
export const writeFormOfWholeShop = async (db: Db): Promise<string> => jsonSchemaOf(await tablesIn(db))

export const checksumOfTables = (tables: WholeShop['tables']): string =>
  createHash('sha256').update(JSON.stringify(tables)).digest('hex')

const cellsOf = (row: Readonly<Record<string, unknown>>, columns: readonly Column[]): Record<string, Cell> =>
  Object.fromEntries(
    columns.map(({ name }) => {
      const value = row[name]
      return [name, value instanceof Uint8Array ? Buffer.from(value).toString('base64') : (value as Cell)]
    }),
  )

function textOf({ tables, ...head }: WholeShop): string {
  const lists = Object.entries(tables).map(([name, rows]) =>
    rows.length === 0
      ? `${JSON.stringify(name)}: []`
      : `${JSON.stringify(name)}: [\n${rows.map((row) => JSON.stringify(row)).join(',\n')}\n]`,
  )
  const { sha256, ...first } = head
  const before = Object.entries(first).map(([name, value]) => `${JSON.stringify(name)}: ${JSON.stringify(value)}`)
  return `{\n${[...before, `"tables": {\n${lists.join(',\n')}\n}`, `"sha256": ${JSON.stringify(sha256)}`].join(',\n')}\n}\n`
}
