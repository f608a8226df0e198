import type { Book, Commission, Customer } from '../core/book/book.ts'
import type { EnteredMoney } from '../core/money/ledger.ts'
import type { NewPromise } from '../core/book/promise.ts'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import { change } from './change.ts'
import { draftRow } from './drafts.ts'
import { entriesTakenBack, entryOf, type Stamp } from './log.ts'
import { additionOf } from './money.ts'
import { commissionOf, customerOf, type Order, type OrderRows, pieceOf, rowsOfOrder, stepOf } from './order-rows.ts'
import { holdOf, lagOf } from './network-rows.ts'
import { LateWork } from './late-work.ts'
import { promisesOf, recordPromise } from './promises.ts'
import { changesBetween, type RowChange } from './row-changes.ts'
import { nextOf, takeNumbers } from './running-number.ts'
import type { Db, PartCutRow } from './schema.ts'
import { stepEntriesOf } from './steps.ts'
import { inTransaction } from './transaction.ts'

export type { Order } from './order-rows.ts'

/**
 * Everything that planning needs: all commissions neither handed over nor called off, by number.
 * @param lateWork what was read of work at others before, so that only what was written since is read
 */
export async function openBook(db: Db, lateWork = new LateWork()): Promise<Book> {
  const commissions = await db
    .selectFrom('commission')
    .select('id')
    .where('standing', 'in', ['asked-about', 'agreed'])
    .execute()
  const book = await bookOf(
    db,
    commissions.map((row) => row.id),
  )
  const lately = await lateWork.besides(db, book.steps)
  return { ...book, lately, latelySince: lateWork.sinceMin, nextNumber: await nextOf(db, 'commission') }
}

/** When the orders were taken that ever were, called off later or not. Instants. */
export async function takenAt(db: Db): Promise<number[]> {
  const rows = await db
    .selectFrom('commission')
    .select('taken_at_min')
    .where((where) =>
      where.or([where('standing', 'in', ['agreed', 'handed-over']), where('closed_from', '=', 'agreed')]),
    )
    .execute()
  return rows.map((row) => row.taken_at_min)
}

/** The same for one commission, whatever its standing; null when there is none. */
export async function bookOfCommission(db: Db, commissionId: string): Promise<Book | null> {
  const book = await bookOf(db, [commissionId])
  return book.commissions.length === 0 ? null : book
}

/** The same for several. */
export const bookOfCommissions = (db: Db, commissionIds: readonly string[]): Promise<Book> => bookOf(db, commissionIds)

/** One commission with its pieces, steps and lags; null when there is none. */
export async function commissionById(db: Db, commissionId: string): Promise<Order | null> {
  const book = await bookOf(db, [commissionId])
  const [commission] = book.commissions
  return commission === undefined ? null : { commission, pieces: book.pieces, steps: book.steps, lags: book.lags }
}

/** The order that people know by that number; null when there is none. */
export async function commissionIdByNumber(db: Db, number: number): Promise<string | null> {
  const row = await db.selectFrom('commission').select('id').where('number', '=', number).executeTakeFirst()
  return row?.id ?? null
}

/** Id of the order with this number; null when there is none. */
export async function commissionNumbered(db: Db, number: number): Promise<string | null> {
  const row = await db.selectFrom('commission').select('id').where('number', '=', number).executeTakeFirst()
  return row?.id ?? null
}

/** An order before it has its number. */
export interface NewOrder extends Omit<Order, 'commission'> {
  readonly commission: Omit<Commission, 'number'>
}

/** The order that was taken with this key, unless that was taken back; null when there is none. */
export async function commissionTakenWith(db: Db, pressKey: string): Promise<Commission | null> {
  const entries = await db
    .selectFrom('log')
    .select(['id', 'commission_id'])
    .where('press_key', '=', pressKey)
    .where('action', '=', TAKEN)
    .execute()
  if (entries.length === 0) return null
  const takenBack = await entriesTakenBack(db)
  const id = entries.find((entry) => !takenBack.has(entry.id))?.commission_id ?? null
  return id === null ? null : ((await commissionById(db, id))?.commission ?? null)
}

const TAKEN = 'commission-taken'

/**
 * Takes an order into the book under the next number: customer (or what is new about one who is known), pieces, steps, lags
 * and the log entry, with the day that was given or quoted, all or nothing. The draft it was typed in goes, and comes back should the order be taken back.
 * @param options `pressKey`: what is taken a second time with it is the order of the first time, with which this answers
 * @throws when the order is not consistent in itself (a lag to a step that is not there)
 */
export const addCommission = (
  db: Db,
  order: NewOrder,
  stamp: Stamp,
  options: {
    readonly draftId?: string
    readonly pressKey?: string | undefined
    readonly payments?: readonly EnteredMoney[]
    readonly promise?: NewPromise | null
  } = {},
): Promise<Commission> =>
  inTransaction(db, async (trx) => {
    const { pressKey } = options
    const before = pressKey === undefined ? null : await commissionTakenWith(trx, pressKey)
    if (before !== null) return before
    const commission: Commission = { ...order.commission, number: await takeNumbers(trx, 'commission', 1) }
    const known = await trx.selectFrom('customer').selectAll().where('id', '=', commission.customer.id).execute()
    const draft = options.draftId === undefined ? [] : await draftRow(trx, options.draftId)
    const changes = [
      ...changesBetween({ customer: known, draft }, rowsOfOrder({ ...order, commission })),
      ...(options.payments ?? []).map(additionOf),
    ]
    const entry = await change(trx, changes, { ...stamp, commissionId: commission.id, action: TAKEN, pressKey })
    if (options.promise) await recordPromise(trx, commission.id, options.promise, stamp.atMs, entry)
    return commission
  })

export interface ChangeMore {
  readonly act?: number
  readonly note?: string
  /** Parts whose wood is lost: they have to come out of other boards, and stay paid by this order. */
  readonly partsLost?: readonly PartCutRow[]
}

/**
 * Changes an order as the function says; only what differs is written and logged. The function gets the order as it is now,
 * must not wait for anything, and keeps the ids of what stays the same.
 *
 * @param action what it was, for the log: `commission-changed`, `commission-agreed`, `commission-handed-over`
 * @param promise the day that was given with it, kept as a record of its own
 * @param more the act that the entry belongs to, words kept with it, and rows that go with the change
 * Problem: `commission-missing`.
 */
export const changeCommission = (
  db: Db,
  commissionId: string,
  action: string,
  changed: (order: Order) => Order,
  stamp: Stamp,
  promise: NewPromise | null = null,
  more: ChangeMore = {},
): Promise<Result<Order>> =>
  inTransaction(db, async (trx) => {
    const before = await commissionById(trx, commissionId)
    if (before === null) return failed(problem('commission-missing', 'This order is no longer in the book.'))
    const after = changed(before)
    // A customer stays known when the order turns out to be somebody else's.
    const customer = await trx
      .selectFrom('customer')
      .selectAll()
      .where('id', '=', after.commission.customer.id)
      .execute()
    const stored = await numberedRows(trx, before)
    const changes = [
      ...changesBetween({ ...rowsOfOrder(before), ...stored, customer }, rowsOfOrder(after, stored.lag)),
      ...partsGone(more.partsLost ?? []),
    ]
    const entry = await change(trx, changes, { ...stamp, commissionId, action, act: more.act, note: more.note })
    if (promise !== null && entry !== null) await recordPromise(trx, commissionId, promise, stamp.atMs, entry)
    return ok(after)
  })

/** Rows that an order counts through, under their numbers in the file: where an earlier act was taken back there are gaps. */
async function numberedRows(db: Db, { pieces, steps }: Order): Promise<Pick<OrderRows, 'lag' | 'step_hold'>> {
  const inPieces = pieces.map(({ id }) => id)
  const ofSteps = steps.map(({ id }) => id)
  return {
    lag: await db.selectFrom('lag').selectAll().where('piece_id', 'in', inPieces).execute(),
    step_hold: await db.selectFrom('step_hold').selectAll().where('step_id', 'in', ofSteps).execute(),
  }
}

const partsGone = (parts: readonly PartCutRow[]): RowChange[] =>
  changesBetween({ part_cut: parts }, { part_cut: parts.map((part) => ({ ...part, lost: 1 })) })

/** Everybody who ever asked, by name: for recognising a customer who comes back. */
export async function customers(db: Db): Promise<Customer[]> {
  const rows = await db.selectFrom('customer').selectAll().orderBy('name').orderBy('id').execute()
  return rows.map(customerOf)
}

/** The number that the next order will get. */
export const nextNumber = (db: Db): Promise<number> => nextOf(db, 'commission')

async function bookOf(db: Db, commissionIds: readonly string[]): Promise<Book> {
  if (commissionIds.length === 0) return { commissions: [], pieces: [], steps: [], lags: [], log: [], promises: [] }
  const commissions = await withCustomer(db).where('commission.id', 'in', commissionIds).orderBy('number').execute()
  const pieces = await db
    .selectFrom('piece')
    .innerJoin('commission', 'commission.id', 'piece.commission_id')
    .selectAll('piece')
    .where('commission_id', 'in', commissionIds)
    .orderBy('commission.number')
    .orderBy('position')
    .execute()
  const steps = await db
    .selectFrom('step')
    .innerJoin('piece', 'piece.id', 'step.piece_id')
    .innerJoin('commission', 'commission.id', 'piece.commission_id')
    .selectAll('step')
    .select('piece.commission_id')
    .where('commission_id', 'in', commissionIds)
    .orderBy('commission.number')
    .orderBy('piece.position')
    .orderBy('step.position')
    .execute()
  const holds = await db
    .selectFrom('step_hold')
    .innerJoin('step', 'step.id', 'step_hold.step_id')
    .innerJoin('piece', 'piece.id', 'step.piece_id')
    .selectAll('step_hold')
    .where('commission_id', 'in', commissionIds)
    .orderBy('step_hold.position')
    .execute()
  const lags = await db
    .selectFrom('lag')
    .innerJoin('piece', 'piece.id', 'lag.piece_id')
    .innerJoin('commission', 'commission.id', 'piece.commission_id')
    .selectAll('lag')
    .where('commission_id', 'in', commissionIds)
    .orderBy('commission.number')
    .orderBy('piece.position')
    .orderBy('lag.position')
    .execute()
  const entries = await db
    .selectFrom('log')
    .selectAll()
    .where('step_id', 'is not', null)
    .where('commission_id', 'in', commissionIds)
    .orderBy('id')
    .execute()

  const keys = new Map(steps.map((step) => [step.id, step.key]))
  const keyOf = (stepId: string): string => keys.get(stepId) ?? ''
  const holdsOf = Map.groupBy(holds, (hold) => hold.step_id)
  const takenBack = await entriesTakenBack(db)
  return {
    commissions: commissions.map(commissionOfJoined),
    pieces: pieces.map(pieceOf),
    steps: steps.map(({ commission_id, ...step }) =>
      stepOf(
        step,
        commission_id,
        (holdsOf.get(step.id) ?? []).map((hold) => holdOf(hold, keyOf)),
      ),
    ),
    lags: lags.map((lag) => lagOf(lag, keyOf)),
    log: stepEntriesOf(entries.map((row) => entryOf(row, takenBack))).filter(({ stepId }) => keys.has(stepId)),
    promises: await promisesOf(db, commissionIds),
  }
}

export const withCustomer = (db: Db) =>
  db
    .selectFrom('commission')
    .innerJoin('customer', 'customer.id', 'commission.customer_id')
    .selectAll('commission')
    .select([
      'customer.name as customer_name',
      'customer.reach',
      'customer.second_reach',
      'customer.address',
      'customer.allergies',
      'customer.child_under_3',
      'customer.notes as customer_notes',
    ])

type Joined = Awaited<ReturnType<ReturnType<typeof withCustomer>['execute']>>[number]

export const commissionOfJoined = (row: Joined): Commission =>
  commissionOf(row, customerOf({ ...row, id: row.customer_id, name: row.customer_name, notes: row.customer_notes }))
