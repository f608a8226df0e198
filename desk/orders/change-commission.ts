import { homeProblem } from '../../core/almanac/home.ts'
import type { Commission, Customer, ExtraLine } from '../../core/book/book.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import type { NewPromise } from '../../core/book/promise.ts'
import type { HomeAir } from '../../core/wood/seasons.ts'
import { changeCommission } from '../../db/commissions.ts'
import type { OpenShop } from '../open-shop.ts'
import { sayPromise, type WantedDay } from './promise-of-quote.ts'
import { promiseByHand, quotedPromise, workOfInquiry } from './quoted-promise.ts'
import type { Moved } from '../moved.ts'

/** Fields of a commission that people may change by hand. Days `YYYY-MM-DD`, money in minor units. */
export interface CommissionChanges {
  readonly customer?: (Omit<Customer, 'id' | 'notes'> & { readonly notes?: string | undefined }) | undefined
  readonly remindOn?: string | null | undefined
  readonly giftFor?: string | undefined
  readonly giftAddress?: string | undefined
  readonly neededBy?: string | null | undefined
  readonly neededWhy?: string | undefined
  readonly promisedFor?: string | null | undefined
  /** Who wanted another promise day, and why. */
  readonly promiseWantedBy?: NewPromise['wantedBy'] | undefined
  readonly promiseWhy?: string | undefined
  readonly notes?: string | undefined
  readonly home?: HomeAir | null | undefined
  readonly priceMinor?: number | null | undefined
  readonly depositMinor?: number | undefined
  readonly untaxedWhy?: string | undefined
  readonly extraLines?: readonly ExtraLine[] | undefined
  readonly weight?: number | undefined
}

export async function changeByHand(shop: OpenShop, id: string, changes: CommissionChanges): Promise<Result<Moved>> {
  const { promiseWantedBy = 'customer', promiseWhy = '', ...ofCommission } = changes
  const turned = changes.home ? homeProblem(changes.home) : null
  if (turned !== null) return failed({ ...turned, field: 'changes.home' })
  const known = shop.book.commissions.find((commission) => commission.id === id)
  const { promisedFor: day } = changes
  const neededBy = changes.neededBy === undefined ? (known?.neededBy ?? null) : changes.neededBy
  const isNewDay = day !== undefined && known !== undefined && day !== known.promisedFor
  const promise = isNewDay
    ? await promiseByHand(shop, id, day, { wantedBy: promiseWantedBy, why: promiseWhy.trim() })
    : null
  const changed = await changeOne(
    shop,
    id,
    'commission-changed',
    'Changed',
    (commission) => ({
      ...commission,
      ...(Object.fromEntries(
        Object.entries(ofCommission).filter(([, value]) => value !== undefined),
      ) as Partial<Commission>),
      customer: changes.customer
        ? { ...commission.customer, ...changes.customer, notes: changes.customer.notes ?? commission.customer.notes }
        : commission.customer,
    }),
    { promise },
  )
  return changed.ok && promise !== null
    ? ok({ ...changed.value, said: `${changed.value.said} ${sayPromise(promise, neededBy, shop.locale)}.` })
    : changed
}

/** The customer said yes: quoted anew for this moment, whatever was quoted when they asked. */
export async function agree(shop: OpenShop, id: string, promisedFor: WantedDay | null): Promise<Result<Moved>> {
  const standing = shop.book.commissions.find((commission) => commission.id === id)
  const against = standing && standing.standing !== 'asked-about' ? wrongStanding(standing, 'agreed') : null
  if (against) return failed(against)
  const work = promisedFor === null ? null : workOfInquiry(shop.moment(), id)
  const quoted =
    promisedFor === null || work === null
      ? null
      : await quotedPromise(shop, work, { wanted: promisedFor, kind: 'promise', chosen: null })
  if (quoted?.ok === false) return quoted
  const promise = quoted?.value.promise ?? null
  return changeOne(
    shop,
    id,
    'commission-agreed',
    promise === null
      ? 'Order taken, no promise date'
      : `Order taken. ${sayPromise(promise, standing?.neededBy ?? null, shop.locale)}`,
    (commission) => ({ ...commission, standing: 'agreed', promisedFor: promise?.day ?? null }),
    {
      promise,
      objection: (commission) => (commission.standing === 'asked-about' ? null : wrongStanding(commission, 'agreed')),
    },
  )
}

export const resume = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-resumed',
    'Back in work',
    (commission) => ({ ...commission, onHoldUntil: null, onHoldWhy: '' }),
    {
      objection: (commission) =>
        commission.onHoldUntil === null ? problem('not-on-hold', `No. ${commission.number} is not on hold.`) : null,
    },
  )

export const handOver = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-handed-over',
    'Handed over',
    (commission) => ({
      ...commission,
      standing: 'handed-over',
      ...{ onHoldUntil: null, onHoldWhy: '', remindOn: null, closedFrom: 'agreed' },
    }),
    { objection: (commission) => notReady(shop, commission) },
  )

function notReady(shop: OpenShop, commission: Commission): Problem | null {
  if (commission.standing !== 'agreed') return wrongStanding(commission, 'handed over')
  const moment = shop.moment()
  const open = moment.stepsOf(commission.id).filter((step) => moment.progress(step.id).kind !== 'done')
  return open.length === 0
    ? null
    : problem(
        'steps-open',
        `${open.length} ${open.length === 1 ? 'step is' : 'steps are'} not done, the next is ${open[0]?.name.toLowerCase() ?? ''}. Finish them on the Bench first.`,
      )
}

const standingWords: Readonly<Record<Commission['standing'], string>> = {
  'asked-about': 'still an inquiry',
  agreed: 'agreed',
  'handed-over': 'handed over',
  'called-off': 'canceled',
}

const wrongStanding = (commission: Commission, wanted: string): Problem =>
  problem(
    'wrong-standing',
    `No. ${commission.number} is ${standingWords[commission.standing]}: it cannot be ${wanted}.`,
  )

async function changeOne(
  shop: OpenShop,
  id: string,
  action: string,
  word: string,
  change: (commission: Commission) => Commission,
  more: {
    readonly objection?: (commission: Commission) => Problem | null
    /** The day that is given with it. */
    readonly promise?: NewPromise | null
  } = {},
): Promise<Result<Moved>> {
  const known = shop.book.commissions.find((commission) => commission.id === id)
  const against = known && more.objection?.(known)
  if (against) return failed(against)
  return shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    const changed = await changeCommission(
      db,
      id,
      action,
      (order) => ({ ...order, commission: change(order.commission) }),
      stamp,
      more.promise ?? null,
    )
    if (!changed.ok) return changed
    const { number, customer } = changed.value.commission
    return ok(`${word}: No. ${number}, ${customer.name}.`)
  })
}
