import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { toEraseAgain } from '../../db/erasures.ts'
import { standingDays } from '../../db/standing-days.ts'
import type { OpenShop } from '../open-shop.ts'
import { knownCustomers, type KnownCustomer } from '../orders/known-customers.ts'

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

export async function dueToErase(shop: OpenShop): Promise<DueToErase> {
  const { keepCustomersYears: keptYears } = shop.almanac
  const { today, almanac } = shop.moment()
  const again = new Set(await toEraseAgain(shop.db))
  const closed = await standingDays(shop.db)
  const lastDay = ({ orders }: KnownCustomer): LocalDay | null => {
    const ends = orders.map(({ commissionId, takenAtMin }) => {
      const { handedOverAtMs, calledOffAtMs } = closed.get(commissionId) ?? {}
      return Math.max(takenAtMin, (handedOverAtMs ?? 0) / 60_000, (calledOffAtMs ?? 0) / 60_000)
    })
    return ends.length === 0 ? null : localDay(Math.max(...ends), almanac.shop.timeZone)
  }
  const due = (await knownCustomers(shop)).flatMap((known): DueToErase['due'] => {
    const { customer, customerIds, orders } = known
    const named = { customerId: customer.id, name: customer.name }
    if (customerIds.some((id) => again.has(id))) return [{ ...named, lastDay: null }]
    const last = lastDay(known)
    const isOpen = orders.some(({ standing }) => standing !== 'handed-over' && standing !== 'called-off')
    if (keptYears === 0 || isOpen || last === null || yearsLater(last, keptYears) >= today) return []
    return [{ ...named, lastDay: last }]
  })
  return { keptYears, due }
}

/** As text: of 29 February the day after the last one that is. */
const yearsLater = (day: LocalDay, years: number): LocalDay => `${Number(day.slice(0, 4)) + years}${day.slice(4)}`
