import { sql } from 'kysely'
import type { Belonging, Commission, Piece } from '../core/book/book.ts'
import type { LocalDay } from '../core/time/local-day.ts'
import type { Db } from './schema.ts'
import { withCustomer, commissionOfJoined } from './commissions.ts'

/** Orders that belong to an earlier one, oldest first. */
export async function ordersBelongingTo(
  db: Db,
  commissionId: string,
): Promise<{ readonly id: string; readonly number: number; readonly as: Belonging['as'] }[]> {
  const rows = await db
    .selectFrom('commission')
    .select(['id', 'number', 'belongs_as'])
    .where('belongs_to', '=', commissionId)
    .orderBy('number')
    .execute()
  return rows.map(({ id, number, belongs_as }) => ({ id, number, as: belongs_as ?? 'again' }))
}

/** One line of the order book. */
export interface OrderBookRow {
  readonly commission: Commission
  readonly pieces: readonly Pick<Piece, 'id' | 'title' | 'count' | 'construction' | 'spec'>[]
}

/**
 * All commissions, or only those of one part of the book, newest first.
 * @param page so many of them, after so many others; all when left out
 */
export async function orderBookRows(
  db: Db,
  part: 'all' | 'open' | 'closed' = 'all',
  page?: { readonly after: number; readonly count: number },
): Promise<OrderBookRow[]> {
  let query = withCustomer(db).orderBy('commission.number', 'desc')
  if (page !== undefined) query = query.limit(page.count).offset(page.after)
  if (part !== 'all')
    query = query.where('standing', 'in', part === 'open' ? ['asked-about', 'agreed'] : ['handed-over', 'called-off'])
  return withPieces(db, (await query.execute()).map(commissionOfJoined))
}

/** The same of these orders, or of everything that these customers ordered, newest first. */
export async function orderBookRowsOf(
  db: Db,
  whose: { readonly commissionIds: readonly string[] } | { readonly customerIds: readonly string[] },
): Promise<OrderBookRow[]> {
  const [column, ids] =
    'commissionIds' in whose
      ? (['commission.id', whose.commissionIds] as const)
      : (['commission.customer_id', whose.customerIds] as const)
  if (ids.length === 0) return []
  const rows = await withCustomer(db).where(column, 'in', ids).orderBy('commission.number', 'desc').execute()
  return withPieces(db, rows.map(commissionOfJoined))
}

/** Every order there ever was, newest first, without its pieces. */
export const everyCommission = async (db: Db): Promise<Commission[]> =>
  (await withCustomer(db).orderBy('commission.number', 'desc').execute()).map(commissionOfJoined)

/** These orders, without their pieces. */
export const commissionsOf = async (db: Db, ids: readonly string[]): Promise<Commission[]> =>
  ids.length === 0 ? [] : (await withCustomer(db).where('commission.id', 'in', ids).execute()).map(commissionOfJoined)

async function withPieces(db: Db, commissions: readonly Commission[]): Promise<OrderBookRow[]> {
  if (commissions.length === 0) return []
  const pieces = await db
    .selectFrom('piece')
    .select(['id', 'commission_id', 'title', 'count', 'construction', 'spec'])
    .where(
      'commission_id',
      'in',
      commissions.map(({ id }) => id),
    )
    .orderBy('commission_id')
    .orderBy('position')
    .execute()
  const piecesOf = Map.groupBy(pieces, (piece) => piece.commission_id)
  return commissions.map((commission) => ({
    commission,
    pieces: (piecesOf.get(commission.id) ?? []).map(({ id, title, count, construction, spec }) => ({
      ...{ id, title, count, construction },
      spec: JSON.parse(spec) as unknown,
    })),
  }))
}

/** The newest orders for one piece of that construction and nothing else, newest first. @param asked.except an order left out */
export async function newestOfOnePiece(
  db: Db,
  asked: { readonly construction: string; readonly except: string | null; readonly count: number },
): Promise<string[]> {
  const { rows } = await sql<{ id: string }>`
    select id from commission
    where id is not ${asked.except}
      and (select count(*) from piece where commission_id = commission.id) = 1
      and exists (select 1 from piece where commission_id = commission.id and construction = ${asked.construction})
    order by number desc limit ${asked.count}`.execute(db)
  return rows.map(({ id }) => id)
}

/** An order as far as its customer is found by it, newest first. */
export interface OrderInBrief {
  readonly customerId: string
  readonly commissionId: string
  readonly number: number
  readonly standing: Commission['standing']
  readonly takenAtMin: number
  readonly pieces: readonly Pick<Piece, 'title' | 'count'>[]
}

/** Every order there ever was, without what its pieces are made of. */
export async function ordersInBrief(db: Db): Promise<OrderInBrief[]> {
  const orders = await ordersOfCustomers(db)
  const pieces = await db
    .selectFrom('piece')
    .select(['commission_id', 'title', 'count'])
    .orderBy('commission_id')
    .orderBy('position')
    .execute()
  const piecesOf = Map.groupBy(pieces, ({ commission_id }) => commission_id)
  return orders.map((order) => ({ ...order, pieces: piecesOf.get(order.commissionId) ?? [] }))
}

/** The same without their pieces. */
export async function ordersOfCustomers(db: Db): Promise<Omit<OrderInBrief, 'pieces'>[]> {
  const rows = await db
    .selectFrom('commission')
    .select(['id', 'customer_id', 'number', 'standing', 'taken_at_min'])
    .orderBy('number', 'desc')
    .execute()
  return rows.map((row) => ({
    ...{ customerId: row.customer_id, commissionId: row.id, number: row.number },
    ...{ standing: row.standing, takenAtMin: row.taken_at_min },
  }))
}

/** How many orders were handed over or called off, and of how many of them the maker wants to be told by a day. */
export async function closedCounts(
  db: Db,
  today: LocalDay,
): Promise<{ readonly closedCount: number; readonly closedToCall: number }> {
  const { closed, to_call } = await db
    .selectFrom('commission')
    .select((eb) => [
      eb.fn.countAll<number>().as('closed'),
      eb.fn.countAll<number>().filterWhere('remind_on', '<=', today).as('to_call'),
    ])
    .where('standing', 'in', ['handed-over', 'called-off'])
    .executeTakeFirstOrThrow()
  return { closedCount: closed, closedToCall: to_call }
}
