import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { toEraseAgain } from '../../db/erasures.ts'
import { type OrderInBrief, ordersOfCustomers } from '../../db/order-lists.ts'
import { standingDays } from '../../db/standing-days.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'
import { people, type SameCustomer } from '../orders/known-customers.ts'

/** Customers who are due to be erased. They are listed; nobody is erased unasked. */
export interface DueToErase {
  /** Years in the almanac; 0: no limit. */
  readonly keptYears: number
  readonly due: readonly {
    readonly customerId: string
    readonly name: string
    /** Local day on which their last order was closed; null: erased before and back with an older copy. */
    readonly lastDay: LocalDay | null
  }[]
}

export const dueToErase = (shop: OpenShop): Promise<DueToErase> => {
  const { today, almanac } = shop.moment()
  return keptUntilMore(shop, 'due', [today, almanac], () => findDue(shop, today))
}

async function findDue(shop: OpenShop, today: LocalDay): Promise<DueToErase> {
  const { almanac } = shop
  const { keepCustomersYears: keptYears } = almanac
  const again = new Set(await toEraseAgain(shop.db))
  if (keptYears === 0 && again.size === 0) return { keptYears, due: [] }
  const closed = await standingDays(shop.db)
  const orders = Map.groupBy(await ordersOfCustomers(shop.db), ({ customerId }) => customerId)
  const lastDay = (own: readonly OrderOf[]): LocalDay | null => {
    const ends = own.map(({ commissionId, takenAtMin }) => {
      const { handedOverAtMs, calledOffAtMs } = closed.get(commissionId) ?? {}
      return Math.max(takenAtMin, (handedOverAtMs ?? 0) / 60_000, (calledOffAtMs ?? 0) / 60_000)
    })
    return ends.length === 0 ? null : localDay(Math.max(...ends), almanac.shop.timeZone)
  }
  const due = (await people(shop)).flatMap((person): DueToErase['due'] => {
    const own = person.flatMap(({ id }) => orders.get(id) ?? [])
    const { id: customerId, name } = asOfNewest(person, own)
    if (person.some(({ id }) => again.has(id))) return [{ customerId, name, lastDay: null }]
    const last = lastDay(own)
    const isOpen = own.some(({ standing }) => standing !== 'handed-over' && standing !== 'called-off')
    if (keptYears === 0 || isOpen || last === null || yearsLater(last, keptYears) >= today) return []
    return [{ customerId, name, lastDay: last }]
  })
  return { keptYears, due }
}

type OrderOf = Omit<OrderInBrief, 'pieces'>

/** As they were written down with their newest order. */
function asOfNewest(person: SameCustomer, own: readonly OrderOf[]): SameCustomer[number] {
  const newest = own.reduce<OrderOf | null>(
    (last, each) => (last !== null && last.number > each.number ? last : each),
    null,
  )
  return person.find(({ id }) => id === newest?.customerId) ?? person.at(-1)!
}

/** As text: of 29 February the day after the last one that is. */
const yearsLater = (day: LocalDay, years: number): LocalDay => `${Number(day.slice(0, 4)) + years}${day.slice(4)}`
