import { LUMBER_AS_COUNTED, type Lumber } from '../../core/book/lumber.ts'
import type { Commission } from '../../core/book/book.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { daysLater, localDay, type LocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { changeCommission } from '../../db/commissions.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'

/** It came today, and starts to rest. */
export const lumberHere = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  say(shop, id, 'lumber-here', (lumber, today) => {
    const until = daysLater(today, shop.almanac.restDays)
    return {
      lumber: { ...lumber, hereOn: today, rested: shop.almanac.restDays === 0 },
      said: until === today ? 'Lumber is here' : `Lumber is here, rests until ${writeLocalDay(until, shop.locale)}`,
    }
  })

/** It did not come; it is expected on another day. */
export const lumberNotYet = (shop: OpenShop, id: string, on: LocalDay): Promise<Result<Moved>> =>
  say(shop, id, 'lumber-expected', (lumber, today) =>
    on < today
      ? problem('past', 'That day is past: choose one from today on.', 'on')
      : {
          lumber: { ...lumber, expectedOn: on, hereOn: null, rested: false },
          said: `Lumber expected ${writeLocalDay(on, shop.locale)}`,
        },
  )

/** It may be cut, whatever the days say: a meter said so, or it came dry. */
export const lumberRested = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  say(shop, id, 'lumber-rested', (lumber, today) => ({
    lumber: { ...lumber, hereOn: lumber.hereOn ?? today, rested: true },
    said: 'Lumber is OK to cut',
  }))

/** Where the wood of an order comes from: counted anew, in the shop, from the yard or from the customer. */
export const lumberFrom = (
  shop: OpenShop,
  id: string,
  { from, expectedOn }: Pick<Lumber, 'from' | 'expectedOn'>,
): Promise<Result<Moved>> =>
  say(shop, id, 'lumber-from', (_, today) => {
    if (from === 'customer' && expectedOn === null)
      return problem('missing', 'When does the customer bring it? Choose a day.', 'expectedOn')
    if (expectedOn !== null && expectedOn < today)
      return problem('past', 'That day is past: choose one from today on.', 'expectedOn')
    return { lumber: { ...LUMBER_AS_COUNTED, from, expectedOn }, said: FROM_WORDS[from] }
  })

const FROM_WORDS: Readonly<Record<Lumber['from'], string>> = {
  counted: 'Lumber counted from your boards',
  shop: 'Lumber is in the shop',
  yard: 'Lumber comes from the yard',
  customer: 'The customer brings the lumber',
}

function say(
  shop: OpenShop,
  id: string,
  action: string,
  becomes: (lumber: Lumber, today: LocalDay) => { readonly lumber: Lumber; readonly said: string } | Problem,
): Promise<Result<Moved>> {
  return shop.change(async (db) => {
    const known = shop.book.commissions.find((commission) => commission.id === id)
    if (known === undefined)
      return failed(problem('commission-missing', 'This order is not open any more: look in the Order book.'))
    const after = becomes(known.lumber, localDay(shop.now, shop.almanac.shop.timeZone))
    if ('code' in after) return failed(after)
    const changed = await changeCommission(
      db,
      id,
      action,
      (order) => ({ ...order, commission: { ...order.commission, lumber: after.lumber } satisfies Commission }),
      { atMs: shop.nowMs, makerId: null },
    )
    if (!changed.ok) return changed
    const { number, customer } = changed.value.commission
    return ok(`${after.said}: No. ${number}, ${customer.name}.`)
  })
}
