import type { Supply } from '../core/book/supplies.ts'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { change } from './change.ts'
import { entriesTakenBack, entryOf, type Stamp } from './log.ts'
import { changesBetween } from './row-changes.ts'
import type { Db, SupplyRow } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** Everything that is kept count of, in the order in which it was listed. */
export const supplies = async (db: Db): Promise<Supply[]> =>
  (await db.selectFrom('supply').selectAll().orderBy('position').orderBy('id').execute()).map(supplyOf)

/** What a supply was found to be, and when, in milliseconds since the Unix epoch. */
export interface SupplyCount {
  readonly id: string
  readonly atMs: number
  /** Null: not counted any more. */
  readonly amount: number | null
}

/** Actions that say how much there is; one that takes a supply off the list says nothing of it. */
const COUNTED_BY = ['supply-changed', 'supply-out', 'supply-here'] as const

export type SupplyCounted = (typeof COUNTED_BY)[number]

/** Every count of every supply, oldest first; from the log, as far as it counts. */
export async function supplyCounts(db: Db): Promise<readonly SupplyCount[]> {
  const rows = await db.selectFrom('log').selectAll().where('action', 'in', COUNTED_BY).orderBy('id').execute()
  const takenBack = await entriesTakenBack(db)
  return rows
    .map((row) => entryOf(row, takenBack))
    .flatMap(({ event, atMs, counts, undoes }) =>
      event.kind !== 'rows' || !counts || undoes !== null
        ? []
        : event.changes.flatMap(({ table, key, after }): SupplyCount[] =>
            table === 'supply' && after !== null && 'amount' in after
              ? [{ id: String(key['id']), atMs, amount: after['amount'] === null ? null : Number(after['amount']) }]
              : [],
          ),
    )
}

/** Keeps what is known of a supply: one that is known is changed, another listed. Answers with the entry; null: nothing differs. */
export const saveSupply = (db: Db, supply: Supply, stamp: Stamp, action: SupplyCounted): Promise<number | null> =>
  inTransaction(db, async (trx) => {
    const known = await trx.selectFrom('supply').selectAll().execute()
    const before = known.filter(({ id }) => id === supply.id)
    const position = before[0]?.position ?? Math.max(-1, ...known.map((row) => row.position)) + 1
    return change(trx, changesBetween({ supply: before }, { supply: [rowOf(supply, position)] }), { ...stamp, action })
  })

/** Takes a supply off the list. Problem: `supply-missing`. */
export const removeSupply = (db: Db, id: string, stamp: Stamp): Promise<Result<Supply>> =>
  inTransaction(db, async (trx) => {
    const row = await trx.selectFrom('supply').selectAll().where('id', '=', id).executeTakeFirst()
    if (row === undefined) return failed(problem('supply-missing', 'This is not on the list any more.'))
    await change(trx, changesBetween({ supply: [row] }, {}), { ...stamp, action: 'supply-removed' })
    return ok(supplyOf(row))
  })

const supplyOf = (row: SupplyRow): Supply => ({
  id: row.id,
  name: row.name,
  kind: row.kind,
  productId: row.product_id,
  amount: row.amount,
  reorderAt: row.reorder_at,
  outSince: row.out_since,
  expectedOn: row.expected_on,
})

const rowOf = (supply: Supply, position: number): SupplyRow => ({
  id: supply.id,
  position,
  name: supply.name,
  kind: supply.kind,
  product_id: supply.productId,
  unit: UNITS[supply.kind],
  amount: supply.amount,
  reorder_at: supply.reorderAt,
  out_since: supply.outSince,
  expected_on: supply.expectedOn,
})

const UNITS: Readonly<Record<Supply['kind'], string>> = { glue: 'g', finish: 'ml', hardware: '', other: '' }
