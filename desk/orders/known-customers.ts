import type { Customer } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import { ERASED_NAME } from '../../db/leave-out.ts'
import { customers } from '../../db/commissions.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import type { OpenShop } from '../open-shop.ts'
import { wordOf, type CommissionWord } from './commission-word.ts'

/** Somebody who ordered or asked before. */
export interface KnownCustomer {
  /** As they were with their newest order. */
  readonly customer: Customer
  /** Of every time they were written down. */
  readonly customerIds: readonly string[]
  /** Newest first. */
  readonly orders: readonly {
    readonly commissionId: string
    readonly number: number
    readonly titles: readonly string[]
    readonly standing: CommissionWord
    readonly takenAtMin: number
  }[]
}

/**
 * Everybody who ever ordered or asked, by name. Orders of before customers were known by themselves have one each: the same name with the
 * same way to reach them is one customer.
 */
export async function knownCustomers(shop: OpenShop): Promise<KnownCustomer[]> {
  const moment = shop.moment()
  const rows = await orderBookRows(shop.db)
  const byCustomer = Map.groupBy(rows, ({ commission }) => keyOf(commission.customer))
  const all = Map.groupBy(await customers(shop.db), keyOf)
  return [...all].flatMap(([key, same]) => {
    const own = byCustomer.get(key) ?? []
    const customer = own[0]?.commission.customer ?? same.at(-1)
    if (customer === undefined || customer.name === ERASED_NAME) return []
    const orders = own.map(({ commission, pieces }) => ({
      commissionId: commission.id,
      number: commission.number,
      titles: pieces.map(countedTitle),
      standing: wordOf(commission, moment),
      takenAtMin: commission.takenAtMin,
    }))
    const customerIds = [
      ...new Set([...own.map(({ commission }) => commission.customer.id), ...same.map(({ id }) => id)]),
    ]
    return [{ customer, customerIds, orders }]
  })
}

const keyOf = ({ name, reach }: Customer): string =>
  JSON.stringify([
    name.trim().toLowerCase(),
    reach.includes('@') ? reach.trim().toLowerCase() : reach.replace(/\D/g, ''),
  ])
