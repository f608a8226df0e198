import type { Commission } from '../../core/book/book.ts'
import type { NewPromise } from '../../core/book/promise.ts'
import { writeMoney } from '../../core/money/money.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import type { LocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { changeCommission, commissionById, type Order } from '../../db/commissions.ts'
import { moneyOf } from '../../db/money.ts'
import { readKept } from '../money/keep-of-canceled.ts'
import { moneyView } from '../money/order-money.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'
import { promiseByHand } from './quoted-promise.ts'

/** Stops work on an order until a day (or until nobody knows when), with a day to be told of it. */
export const putOnHold = (
  shop: OpenShop,
  id: string,
  { until, why, remindOn }: { readonly until: string; readonly why: string; readonly remindOn: string | null },
): Promise<Result<Moved>> =>
  changeStanding(shop, id, {
    action: 'commission-held',
    objection: (commission) => (isOpen(commission) ? null : wrongStanding(commission, 'put on hold')),
    change: (commission) => ({ ...commission, onHoldUntil: until, onHoldWhy: why.trim(), remindOn }),
    said: () => `On hold${remindOn === null ? '' : `, told on ${writeLocalDay(remindOn, shop.locale)}`}`,
  })

/**
 * Cancels an order, or marks an inquiry as lost; says what becomes of what was paid.
 * @param close why, and what is kept as typed, blank: as proposed
 */
export async function callOff(
  shop: OpenShop,
  id: string,
  { why, keep }: { readonly why: string; readonly keep: string },
): Promise<Result<Moved>> {
  const typed = await readKept(shop, id, keep, 'keep')
  if (!typed.ok) return typed
  const keptMinor = typed.value
  const known = shop.book.commissions.find((each) => each.id === id)
  const commission = known && { ...known, keptMinor }
  const entries = commission === undefined ? [] : await moneyOf(shop.db, [id])
  const kept = commission === undefined ? null : moneyView(commission, entries, shop.moment()).kept
  const say = (minor: number): string => writeMoney(minor, shop.almanac.shop.currency, shop.locale)
  const deposit =
    kept === null
      ? ''
      : ` Keep ${say(kept.keptMinor)}${kept.isTyped ? '' : ' for hours and wood'}, give back ${say(kept.backMinor)}.`
  return changeStanding(shop, id, {
    action: 'commission-called-off',
    objection: (each) => (isOpen(each) ? null : wrongStanding(each, 'canceled')),
    change: (each) => ({
      ...each,
      standing: 'called-off',
      closedFrom: each.standing === 'agreed' ? 'agreed' : 'asked-about',
      ...{ closedWhy: why.trim(), keptMinor },
      remindOn: null,
    }),
    said: (each) => (each.closedFrom === 'asked-about' ? 'Inquiry lost' : 'Canceled'),
    after: deposit,
  })
}

/**
 * Takes up an order again that was closed. A promise whose day is past is no promise any more. Of a canceled order that is written down,
 * else it would be late from that day on; one that was handed over keeps the promise that it was judged by.
 */
export async function reopen(shop: OpenShop, id: string): Promise<Result<Moved>> {
  const { today } = shop.moment()
  const known = await commissionById(shop.db, id)
  const isOver = (day: LocalDay | null): boolean => day !== null && day < today
  const lapses = known?.commission.standing === 'called-off' && isOver(known.commission.promisedFor)
  return changeStanding(shop, id, {
    action: 'commission-reopened',
    objection: (commission) => (isOpen(commission) ? wrongStanding(commission, 'reopened') : null),
    change: (commission) => ({
      ...commission,
      standing: commission.standing === 'handed-over' ? 'agreed' : (commission.closedFrom ?? 'agreed'),
      promisedFor: isOver(commission.promisedFor) ? null : commission.promisedFor,
      ...{ closedFrom: null, closedWhy: '', keptMinor: null },
    }),
    said: () => 'Open again',
    promise: lapses ? await promiseByHand(shop, id, null, { wantedBy: 'customer', why: '' }) : null,
  })
}

/** The customer was told how it stands: nothing to call about until the next thing happens. */
export const told = (shop: OpenShop, id: string): Promise<Result<Moved>> => {
  const { today } = shop.moment()
  return changeStanding(shop, id, {
    action: 'commission-told',
    objection: () => null,
    change: (commission) => ({ ...commission, toldOn: today, remindOn: null }),
    said: () => 'Customer told',
  })
}

export const remind = (shop: OpenShop, id: string, day: string | null): Promise<Result<Moved>> =>
  changeStanding(shop, id, {
    action: 'commission-reminder',
    objection: () => null,
    change: (commission) => ({ ...commission, remindOn: day }),
    said: () => (day === null ? 'No reminder' : `Reminder on ${writeLocalDay(day, shop.locale)}`),
  })

/** One piece leaves before the rest of its order does: fetched, or delivered. */
export async function handOverPiece(shop: OpenShop, id: string, pieceId: string): Promise<Result<Moved>> {
  const moment = shop.moment()
  const steps = moment.stepsOf(id).filter((step) => step.pieceId === pieceId)
  const piece = moment.book.pieces.find((each) => each.id === pieceId && each.commissionId === id)
  if (piece === undefined) return failed(problem('unknown-piece', 'This order has no such piece.', 'pieceId'))
  const open = steps.filter((step) => moment.progress(step.id).kind !== 'done' && step.lost !== true)
  if (open.length > 0)
    return failed(problem('steps-open', `Not done yet: ${open[0]?.name.toLowerCase() ?? ''}.`, 'pieceId'))
  return shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    const handed = (order: Order): Order => ({
      ...order,
      pieces: order.pieces.map((each) => (each.id === pieceId ? { ...each, handedOverOn: moment.today } : each)),
    })
    const changed = await changeCommission(db, id, 'piece-handed-over', handed, stamp)
    return changed.ok ? ok(`Handed over: ${piece.title}, No. ${changed.value.commission.number}.`) : changed
  })
}

const isOpen = ({ standing }: Commission): boolean => standing === 'agreed' || standing === 'asked-about'

const STANDING_WORDS: Readonly<Record<Commission['standing'], string>> = {
  'asked-about': 'only an inquiry',
  agreed: 'open',
  'handed-over': 'handed over',
  'called-off': 'canceled',
}

const wrongStanding = ({ number, standing }: Commission, wanted: string): Problem =>
  problem('wrong-standing', `No. ${number} is ${STANDING_WORDS[standing]}: it cannot be ${wanted}.`)

interface StandingChange {
  readonly action: string
  readonly objection: (commission: Commission) => Problem | null
  readonly change: (commission: Commission) => Commission
  /** Of the order as it is afterwards. */
  readonly said: (commission: Commission) => string
  readonly after?: string
  /** The day that is given or taken back with it. */
  readonly promise?: NewPromise | null
}

async function changeStanding(shop: OpenShop, id: string, what: StandingChange): Promise<Result<Moved>> {
  const known = await commissionById(shop.db, id)
  if (known === null) return failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
  const against = what.objection(known.commission)
  if (against !== null) return failed(against)
  return shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    const changed = await changeCommission(
      db,
      id,
      what.action,
      (order) => ({ ...order, commission: what.change(order.commission) }),
      stamp,
      what.promise ?? null,
    )
    if (!changed.ok) return changed
    const { commission } = changed.value
    return ok(`${what.said(commission)}: No. ${commission.number}, ${commission.customer.name}.${what.after ?? ''}`)
  })
}
