import { keepErasure } from './erasures.ts'
import { ERASED_NAME } from './leave-out.ts'
import { rewriteEntries, type EntryTexts } from './log-chain.ts'
import { record, type Stamp } from './log.ts'
import { asPerson, entriesAbout, KEPT_BY_LAW, type PersonInBook } from './person.ts'
import { cellsWithout, parsed, type Person, textWithout } from './personal-cells.ts'
import type { Cells } from './row-changes.ts'
import { digestOf } from './row-digest.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'
import { WIPE_DUE } from './wipe-remains.ts'

export interface HowToErase {
  /** Also out of invoices, credit notes and receipts. */
  readonly fromPapersKeptByLaw: boolean
}

/**
 * Takes a person out of the book, the log, drafts and papers, all or nothing; numbers, days, work and money stay, and the log's checksums
 * fit again. It cannot be undone. Afterwards the file holds the old bytes until it is written anew (`ShopFile.wipeRemains`).
 */
export const erasePerson = (db: Db, found: PersonInBook, how: HowToErase, stamp: Stamp): Promise<void> =>
  inTransaction(db, async (trx) => {
    const person = asPerson(found)
    await trx.insertInto('erasing').values({ started_at_ms: stamp.atMs }).execute()
    await rewriteRows(trx, person)
    await rewritePapers(trx, person, how)
    if (found.draftIds.length > 0) await trx.deleteFrom('draft').where('id', 'in', found.draftIds).execute()
    await rewriteLog(trx, person)
    await trx.deleteFrom('erasing').execute()
    for (const customer_id of found.customerIds)
      await keepErasure(trx, { customer_id, asked_at_ms: stamp.atMs, done_at_ms: stamp.atMs })
    await trx
      .insertInto('upkeep')
      .values({ task: WIPE_DUE, done_at_ms: stamp.atMs })
      .onConflict((conflict) => conflict.column('task').doNothing())
      .execute()
    const orders = found.orders.map(({ number }) => number)
    await record(trx, { ...stamp, action: 'person-erased', event: { kind: 'remark', detail: { orders } } })
  })

/** Rows of the person's own and texts in the rows that belong to their orders. */
async function rewriteRows(trx: Db, person: Person): Promise<void> {
  const orders = [...person.commissionIds, '']
  const customers = await trx
    .selectFrom('customer')
    .selectAll()
    .where('id', 'in', [...person.customerIds])
    .execute()
  for (const row of customers)
    await trx
      .updateTable('customer')
      .set(changed(person, 'customer', row))
      .where('id', '=', row.id)
      .execute()
  const commissions = await trx.selectFrom('commission').selectAll().where('id', 'in', orders).execute()
  for (const row of commissions)
    await trx
      .updateTable('commission')
      .set(changed(person, 'commission', row))
      .where('id', '=', row.id)
      .execute()
  const pieces = await trx.selectFrom('piece').selectAll().where('commission_id', 'in', orders).execute()
  for (const row of pieces)
    await trx
      .updateTable('piece')
      .set(changed(person, 'piece', row))
      .where('id', '=', row.id)
      .execute()
  const steps = await trx
    .selectFrom('step')
    .selectAll()
    .where('piece_id', 'in', [...pieces.map(({ id }) => id), ''])
    .execute()
  for (const row of steps)
    await trx
      .updateTable('step')
      .set(changed(person, 'step', row))
      .where('id', '=', row.id)
      .execute()
  const lags = await trx
    .selectFrom('lag')
    .select(['piece_id', 'position', 'name', 'remedy_name'])
    .where('piece_id', 'in', [...pieces.map(({ id }) => id), ''])
    .execute()
  for (const { piece_id, position, ...names } of lags)
    await trx
      .updateTable('lag')
      .set(cellsWithout(person, 'lag', {}, names))
      .where('piece_id', '=', piece_id)
      .where('position', '=', position)
      .execute()
  const money = await trx.selectFrom('money_entry').selectAll().where('commission_id', 'in', orders).execute()
  for (const row of money)
    await trx
      .updateTable('money_entry')
      .set(changed(person, 'money_entry', row))
      .where('id', '=', row.id)
      .execute()
  const promises = await trx.selectFrom('promise').selectAll().where('commission_id', 'in', orders).execute()
  for (const row of promises)
    await trx
      .updateTable('promise')
      .set(rewritten('promise', row, { why: textWithout(person, row.why) }))
      .where('id', '=', row.id)
      .execute()
}

/** All cells but the key, which nothing is set to. */
function changed<Row extends { readonly id: string }>(person: Person, table: string, row: Row): Omit<Row, 'id'> {
  const { id, ...cells } = row
  return cellsWithout(person, table, { id }, cells as unknown as Cells) as unknown as Omit<Row, 'id'>
}

async function rewritePapers(trx: Db, person: Person, { fromPapersKeptByLaw }: HowToErase): Promise<void> {
  const rows = await trx
    .selectFrom('paper')
    .selectAll()
    .where('commission_id', 'in', [...person.commissionIds, ''])
    .execute()
  for (const row of rows) {
    const { id, kind, content } = row
    if (!fromPapersKeptByLaw && (KEPT_BY_LAW as readonly string[]).includes(kind)) continue
    const paper = parsed(content) as { readonly to?: unknown } | undefined
    const without = { ...(person.out.value(paper ?? {}) as object), ...(paper?.to === undefined ? {} : { to: NOBODY }) }
    await trx
      .updateTable('paper')
      .set(rewritten('paper', row, { content: JSON.stringify(without) }))
      .where('id', '=', id)
      .execute()
  }
}

/** Other texts, and the digest that goes with them; a row that was damaged stays told as damaged. */
function rewritten<Cells extends object>(
  table: 'paper' | 'promise',
  row: object & { readonly digest: string | null },
  cells: Cells,
): Cells & { readonly digest: string | null } {
  const isSound = row.digest === digestOf(table, row)
  return { ...cells, digest: isSound ? digestOf(table, { ...row, ...cells }) : row.digest }
}

const NOBODY = { name: ERASED_NAME, address: '' }

async function rewriteLog(trx: Db, person: Person): Promise<void> {
  const entries = await entriesAbout(trx, [...person.customerIds], [...person.commissionIds])
  const texts = new Map<number, EntryTexts>()
  for (const entry of entries) {
    const [before, after] = [sideWithout(person, entry.before), sideWithout(person, entry.after)]
    const note = entry.note === null ? null : person.out.text(entry.note)
    if (before !== entry.before || after !== entry.after || note !== entry.note)
      texts.set(entry.id, { before, after, note })
  }
  if (texts.size > 0) await rewriteEntries(trx, texts)
}

interface LoggedSide {
  readonly rows?: readonly { readonly table: string; readonly key: Cells; readonly cells: Cells | null }[]
  readonly remark?: unknown
}

/** One side of an entry: what of rows stands in it reads as the rows do now. */
function sideWithout(person: Person, side: string | null): string | null {
  if (side === null) return null
  const read = parsed(side) as LoggedSide | undefined
  // Damaged: nothing can be told of its parts.
  if (read === undefined) return person.out.text(side)
  return JSON.stringify({
    ...read,
    ...(read.rows && {
      rows: read.rows.map(({ table, key, cells }) => ({
        ...{ table, key },
        cells: cells === null ? null : cellsWithout(person, table, key, cells),
      })),
    }),
    ...('remark' in read && { remark: person.out.value(read.remark) }),
  })
}
