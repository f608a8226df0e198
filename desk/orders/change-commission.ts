import { homeProblem } from '../../core/almanac/home.ts'
import type { Commission, Customer, ExtraLine } from '../../core/book/book.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import type { HomeAir } from '../../core/wood/seasons.ts'
import { changeCommission } from '../../db/commissions.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../views.ts'

/** Fields of a commission that people may change by hand. Days `YYYY-MM-DD`, money in minor units. */
export interface CommissionChanges {
  readonly customer?: Omit<Customer, 'id'> | undefined
  readonly neededBy?: string | null | undefined
  readonly neededWhy?: string | undefined
  readonly promisedFor?: string | null | undefined
  readonly notes?: string | undefined
  readonly home?: HomeAir | null | undefined
  readonly priceMinor?: number | null | undefined
  readonly depositMinor?: number | undefined
  readonly untaxedWhy?: string | undefined
  readonly extraLines?: readonly ExtraLine[] | undefined
  readonly weight?: number | undefined
}

export async function changeByHand(shop: OpenShop, id: string, changes: CommissionChanges): Promise<Result<Moved>> {
  const turned = changes.home ? homeProblem(changes.home) : null
  if (turned !== null) return failed({ ...turned, field: 'changes.home' })
  return changeOne(shop, id, 'commission-changed', 'Changed', (commission) => ({
    ...commission,
    ...(Object.fromEntries(Object.entries(changes).filter(([, value]) => value !== undefined)) as Partial<Commission>),
    customer: changes.customer ? { ...commission.customer, ...changes.customer } : commission.customer,
  }))
}

/** The customer said yes. */
export const agree = (shop: OpenShop, id: string, promisedFor: string | null): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-agreed',
    promisedFor === null
      ? 'Agreed, with no promise date'
      : `Agreed, promised for ${writeLocalDay(promisedFor, shop.locale)}`,
    (commission) => ({ ...commission, standing: 'agreed', promisedFor }),
    (commission) => (commission.standing === 'asked-about' ? null : wrongStanding(commission, 'agreed')),
  )

export const putOnHold = (shop: OpenShop, id: string, until: string, why: string): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-held',
    'On hold',
    (commission) => ({ ...commission, onHoldUntil: until, onHoldWhy: why.trim() }),
    (commission) => (isOpen(commission) ? null : wrongStanding(commission, 'put on hold')),
  )

export const resume = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-resumed',
    'Goes on',
    (commission) => ({ ...commission, onHoldUntil: null, onHoldWhy: '' }),
    (commission) =>
      commission.onHoldUntil === null ? problem('not-on-hold', `No. ${commission.number} is not on hold.`) : null,
  )

export const callOff = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-called-off',
    'Called off',
    (commission) => ({ ...commission, standing: 'called-off' }),
    (commission) => (isOpen(commission) ? null : wrongStanding(commission, 'called off')),
  )

export const handOver = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  changeOne(
    shop,
    id,
    'commission-handed-over',
    'Handed over',
    (commission) => ({ ...commission, standing: 'handed-over', onHoldUntil: null, onHoldWhy: '' }),
    (commission) => {
      if (commission.standing !== 'agreed') return wrongStanding(commission, 'handed over')
      const moment = shop.moment()
      const open = moment.book.steps.filter(
        (step) => step.commissionId === id && moment.progress(step.id).kind !== 'done',
      )
      return open.length === 0
        ? null
        : problem(
            'steps-open',
            `${open.length} ${open.length === 1 ? 'step is' : 'steps are'} not done, the next is ${open[0]?.name.toLowerCase() ?? ''}. Finish them on the Bench first.`,
          )
    },
  )

const isOpen = (commission: Commission): boolean =>
  commission.standing === 'agreed' || commission.standing === 'asked-about'

const standingWords: Readonly<Record<Commission['standing'], string>> = {
  'asked-about': 'only asked about',
  agreed: 'agreed',
  'handed-over': 'handed over',
  'called-off': 'called off',
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
  objection: (commission: Commission) => Problem | null = () => null,
): Promise<Result<Moved>> {
  const known = shop.book.commissions.find((commission) => commission.id === id)
  const against = known && objection(known)
  if (against) return failed(against)
  return shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    const changed = await changeCommission(
      db,
      id,
      action,
      (order) => ({ ...order, commission: change(order.commission) }),
      stamp,
    )
    if (!changed.ok) return changed
    const { number, customer } = changed.value.commission
    return ok(`${word}: No. ${number}, ${customer.name}.`)
  })
}
