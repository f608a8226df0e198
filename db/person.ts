import { leavingOut } from './leave-out.ts'
import { BILLED_BY } from './papers.ts'
import type { PaperKind } from '../core/papers/paper.ts'
import { parsed, PERSONAL, type Person } from './personal-cells.ts'
import type { Db } from './schema.ts'

/** Tax rules of most places want these kept for years as they were issued. */
export const KEPT_BY_LAW: readonly PaperKind[] = [...BILLED_BY, 'credit-note', 'receipt']

/** Everything of one person, who may have been written down more than once. */
export interface PersonInBook {
  readonly customerIds: readonly string[]
  readonly orders: readonly { readonly id: string; readonly number: number; readonly isOpen: boolean }[]
  /** Names, ways to reach, addresses: as they are and as they ever were. */
  readonly phrases: readonly string[]
  /** How many papers stay as they were issued, and how many others there are. */
  readonly papers: { readonly kept: number; readonly others: number }
  /** Drafts of new orders for this person. */
  readonly draftIds: readonly string[]
  /** Orders of others in which this person is named: nothing is changed there. */
  readonly namedIn: readonly number[]
}

export async function personInBook(db: Db, customerIds: readonly string[]): Promise<PersonInBook> {
  const orders = await db
    .selectFrom('commission')
    .select(['id', 'number', 'standing'])
    .where('customer_id', 'in', customerIds)
    .orderBy('number')
    .execute()
  const orderIds = orders.map(({ id }) => id)
  const papers = await db
    .selectFrom('paper')
    .select('kind')
    .where('commission_id', 'in', [...orderIds, ''])
    .execute()
  const phrases = await phrasesOf(db, customerIds, orderIds)
  const kept = papers.filter(({ kind }) => (KEPT_BY_LAW as readonly string[]).includes(kind)).length
  return {
    customerIds,
    orders: orders.map(({ id, number, standing }) => ({
      ...{ id, number },
      isOpen: standing === 'asked-about' || standing === 'agreed',
    })),
    phrases,
    papers: { kept, others: papers.length - kept },
    draftIds: await draftsOf(db, customerIds, phrases),
    namedIn: await namedIn(db, orderIds, phrases),
  }
}

/** The person as what is to be left out. */
export const asPerson = ({ customerIds, orders, phrases }: PersonInBook): Person => ({
  customerIds: new Set(customerIds),
  commissionIds: new Set(orders.map(({ id }) => id)),
  out: leavingOut(phrases),
})

/** What a name or address ever was: as the rows have it and as the log has it of before they were changed. */
async function phrasesOf(db: Db, customerIds: readonly string[], orderIds: readonly string[]): Promise<string[]> {
  const now = await db.selectFrom('customer').selectAll().where('id', 'in', customerIds).execute()
  const gifts = await db
    .selectFrom('commission')
    .select(['gift_for', 'gift_address'])
    .where('id', 'in', [...orderIds, ''])
    .execute()
  const found = new Set([
    ...now.flatMap(({ name, reach, second_reach, address }) => [name, reach, second_reach, address]),
    ...gifts.flatMap(({ gift_for, gift_address }) => [gift_for, gift_address]),
  ])
  for (const { before, after } of await entriesAbout(db, customerIds, orderIds)) {
    for (const { table, key, cells } of [...rowsIn(before), ...rowsIn(after)]) {
      const isOwn = (table === 'customer' ? customerIds : table === 'commission' ? orderIds : []).includes(key)
      if (isOwn) for (const column of TELLING) if (typeof cells?.[column] === 'string') found.add(cells[column])
    }
  }
  return [...found].filter((phrase) => phrase !== '' && phrase !== PERSONAL.customer['name'])
}

/** Columns whose text finds a person wherever it stands. */
const TELLING = ['name', 'reach', 'second_reach', 'address', 'gift_for', 'gift_address'] as const

/** Every entry of the log that could tell of the person. */
export async function entriesAbout(
  db: Db,
  customerIds: readonly string[],
  orderIds: readonly string[],
): Promise<
  { readonly id: number; readonly before: string | null; readonly after: string | null; readonly note: string | null }[]
> {
  return db
    .selectFrom('log')
    .select(['id', 'before', 'after', 'note'])
    .where((eb) =>
      eb.or([
        eb('commission_id', 'in', [...orderIds, '']),
        eb('action', '=', 'rows-found'),
        ...customerIds.flatMap((id) => [eb('before', 'like', `%${id}%`), eb('after', 'like', `%${id}%`)]),
      ]),
    )
    .orderBy('id')
    .execute()
}

interface LoggedRow {
  readonly table: string
  readonly key: string
  readonly cells: Readonly<Record<string, unknown>> | null
}

function rowsIn(side: string | null): readonly LoggedRow[] {
  const read = side === null ? undefined : parsed(side)
  const rows = (
    read as { rows?: readonly { table: string; key: { id?: unknown }; cells: LoggedRow['cells'] }[] } | undefined
  )?.rows
  return (rows ?? []).map(({ table, key, cells }) => ({ table, key: String(key.id ?? ''), cells }))
}

async function draftsOf(db: Db, customerIds: readonly string[], phrases: readonly string[]): Promise<string[]> {
  const rows = await db.selectFrom('draft').select(['id', 'content']).execute()
  const out = leavingOut(phrases)
  return rows
    .filter(({ content }) => customerIds.some((id) => content.includes(JSON.stringify(id))) || out.isIn(content))
    .map(({ id }) => id)
}

/** Words of other orders and customers that name this one. */
async function namedIn(db: Db, orderIds: readonly string[], phrases: readonly string[]): Promise<number[]> {
  const out = leavingOut(phrases)
  const rows = await db
    .selectFrom('commission')
    .innerJoin('customer', 'customer.id', 'commission.customer_id')
    .select(['commission.id', 'number', 'commission.notes', 'needed_why', 'on_hold_why', 'closed_why', 'gift_for'])
    .select(['gift_address', 'customer.notes as customer_notes'])
    .orderBy('number')
    .execute()
  return rows
    .filter(({ id, number: _, ...texts }) => !orderIds.includes(id) && out.isIn(Object.values(texts).join('\n')))
    .map(({ number }) => number)
}
