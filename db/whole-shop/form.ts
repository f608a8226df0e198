import { sql } from 'kysely'
import { z } from 'zod'
import type { Db } from '../schema.ts'

/** What a shop's file holds for its own computer alone; it is made anew elsewhere. */
const OF_THIS_COMPUTER: ReadonlySet<string> = new Set(['upkeep', 'erasing'])

/** Files that were written before may lack them: then they are empty. */
const ADDED_LATER: ReadonlySet<string> = new Set(['announced_start'])

export const FORMAT = 'out-of-clamps-shop'

/** One column of one table, as the file itself defines it. */
export interface Column {
  readonly name: string
  readonly type: 'TEXT' | 'INTEGER' | 'REAL' | 'BLOB'
  readonly canBeNull: boolean
}

export type Tables = ReadonlyMap<string, readonly Column[]>

/** A value in a row; bytes are written in base64. */
export type Cell = string | number | null

/** A shop as one JSON document. */
export interface WholeShop {
  readonly format: typeof FORMAT
  /** Names of the migrations that its tables went through, in order. */
  readonly migrations: readonly string[]
  /** What amounts in minor units are counted in. */
  readonly currency: { readonly code: string; readonly decimals: number }
  readonly tables: Readonly<Record<string, readonly Readonly<Record<string, Cell>>[]>>
  /** SHA-256 of `tables` as JSON without spaces, in hexadecimal; absent: written by another program. */
  readonly sha256?: string | undefined
}

/** The tables that belong to the shop, by name, as they are in this file. */
export async function tablesIn(db: Db): Promise<Tables> {
  const { rows } = await sql<{ name: string }>`
    select name from pragma_table_list
    where schema = 'main' and type = 'table' and name not like 'sqlite_%' and name not like 'kysely_%' order by name`.execute(
    db,
  )
  const tables = new Map<string, readonly Column[]>()
  for (const { name } of rows.filter(({ name }) => !OF_THIS_COMPUTER.has(name))) {
    const columns = await sql<{ name: string; type: Column['type']; notnull: number; pk: number }>`
      select name, type, "notnull", pk from pragma_table_info(${name}) order by cid`.execute(db)
    tables.set(
      name,
      columns.rows.map((each) => ({
        name: each.name,
        type: each.type,
        canBeNull: each.notnull === 0 && each.pk === 0,
      })),
    )
  }
  return tables
}

/** The form of a whole shop with these tables: what a file is checked by, and what its JSON Schema is made from. */
export const formOf = (tables: Tables) =>
  z
    .strictObject({
      format: z.literal(FORMAT),
      migrations: z.array(z.string()).min(1).describe('Names of the changes that the tables went through, in order.'),
      currency: z
        .strictObject({ code: z.string().length(3), decimals: z.int().min(0).max(4) })
        .describe('ISO 4217 code and decimals of every amount in minor units.'),
      tables: z.strictObject(
        Object.fromEntries([...tables].map(([name, columns]) => [name, tableForm(name, columns)])),
      ),
      sha256: z
        .string()
        .regex(/^[0-9a-f]{64}$/)
        .optional()
        .describe('SHA-256 of "tables" as JSON without spaces, in hexadecimal. Leave it out of a file of your own.'),
    })
    .describe('A shop of Out of Clamps, whole: every order, its log, money, papers, boards, photos and the almanac.')

/** The same as a JSON Schema, draft 2020-12. */
export const jsonSchemaOf = (tables: Tables): string =>
  `${JSON.stringify(z.toJSONSchema(formOf(tables), { target: 'draft-2020-12' }), null, 2)}\n`

function tableForm(name: string, columns: readonly Column[]): z.ZodType {
  const rows = z.array(rowForm(columns))
  return ADDED_LATER.has(name) ? rows.optional() : rows
}

const rowForm = (columns: readonly Column[]) =>
  z.strictObject(Object.fromEntries(columns.map((column) => [column.name, cellForm(column)])))

function cellForm({ name, type, canBeNull }: Column): z.ZodType {
  const unit = UNITS.find(([ending]) => name.endsWith(ending))?.[1]
  const form = unit === undefined ? FORMS[type]() : FORMS[type]().describe(unit)
  return canBeNull ? form.nullable() : form
}

const FORMS: Readonly<Record<Column['type'], () => z.ZodType>> = {
  TEXT: () => z.string(),
  INTEGER: () => z.int(),
  REAL: () => z.number(),
  BLOB: () => z.base64(),
}

/** What the endings of names say. */
const UNITS: readonly (readonly [ending: string, unit: string])[] = [
  ['_at_ms', 'Milliseconds since 1970-01-01 UTC.'],
  ['_at_min', 'Minutes since 1970-01-01 UTC.'],
  ['at_ms', 'Milliseconds since 1970-01-01 UTC.'],
  ['_min', 'Minutes.'],
  ['_nm', 'Nanometers: 25,400,000 to an inch.'],
  ['minor', 'Whole minor units of the currency.'],
  ['_rh', 'Relative humidity, 0 to 1.'],
  ['celsius', 'Degrees Celsius.'],
  ['day', 'Civil day in the shop’s time zone, YYYY-MM-DD.'],
]
