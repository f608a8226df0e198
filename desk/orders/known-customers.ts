import type { Customer } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import { isFoundIn } from '../../core/book/found-in.ts'
import { ERASED_NAME } from '../../db/leave-out.ts'
import { customers } from '../../db/commissions.ts'
import { orderBookRowsOf, ordersInBrief } from '../../db/order-lists.ts'
import { keptUntilMore } from '../kept-until-more.ts'
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

/** The first of those who were looked for, by name. */
export interface CustomersFound {
  readonly found: readonly KnownCustomer[]
  /** How many there are with what was looked for, and at all. */
  readonly foundCount: number
  readonly count: number
}

/** Where something is looked for: `who` in names and ways to reach them alone, as while a new order is typed. */
export type SearchedIn = 'who' | 'all'

/** Each time that one customer was written down, by name: the same name with the same way to reach them is one customer. */
export type SameCustomer = readonly Customer[]

/**
 * Everybody who ever ordered or asked, by name, without their orders: these are read for those alone who are shown. Orders of before
 * customers were known by themselves have one customer each.
 */
export const people = (shop: OpenShop): Promise<readonly SameCustomer[]> =>
  keptUntilMore(shop, 'people', [], async () => {
    const all = Map.groupBy(await customers(shop.db), keyOf)
    return [...all.values()].filter((same) => same.some(({ name }) => name !== ERASED_NAME))
  })

/** @param count so many at most */
export async function findCustomers(
  shop: OpenShop,
  { sought, within, count }: { readonly sought: string; readonly within: SearchedIn; readonly count: number },
): Promise<CustomersFound> {
  const all = await people(shop)
  const matching = sought.trim() === '' ? all : await withText(shop, all, sought, within)
  return {
    found: await knownCustomers(shop, matching.slice(0, count)),
    foundCount: matching.length,
    count: all.length,
  }
}

/** These people as they are known, with their orders. */
export async function knownCustomers(shop: OpenShop, some: readonly SameCustomer[]): Promise<KnownCustomer[]> {
  const moment = shop.moment()
  const customerIds = some.flatMap((person) => person.map(({ id }) => id))
  const rows = await orderBookRowsOf(shop.db, { customerIds })
  const byCustomer = Map.groupBy(rows, ({ commission }) => keyOf(commission.customer))
  return some.flatMap((same) => {
    const own = byCustomer.get(keyOf(same[0]!)) ?? []
    const customer = own[0]?.commission.customer ?? same.at(-1)!
    const orders = own.map(({ commission, pieces }) => ({
      commissionId: commission.id,
      number: commission.number,
      titles: pieces.map(countedTitle),
      standing: wordOf(commission, moment),
      takenAtMin: commission.takenAtMin,
    }))
    const ids = new Set([...own.map(({ commission }) => commission.customer.id), ...same.map(({ id }) => id)])
    return [{ customer, customerIds: [...ids], orders }]
  })
}

async function withText(
  shop: OpenShop,
  all: readonly SameCustomer[],
  sought: string,
  within: SearchedIn,
): Promise<readonly SameCustomer[]> {
  if (within === 'who')
    return all.filter((person) => {
      const { name, reach, secondReach } = person.at(-1)!
      return isFoundIn([name, reach, secondReach].join(', '), sought)
    })
  const orders = Map.groupBy(await ordersInBrief(shop.db), ({ customerId }) => customerId)
  return all.filter((person) => {
    const { name, reach, secondReach, address, allergies, notes } = person.at(-1)!
    const own = person.flatMap(({ id }) => orders.get(id) ?? [])
    const ordered = own.flatMap(({ number, pieces }) => [`no. ${number}`, ...pieces.map(countedTitle)])
    return isFoundIn([name, reach, secondReach, address, allergies, notes, ...ordered].join(', '), sought)
  })
}

const keyOf = ({ name, reach }: Customer): string =>
  JSON.stringify([
    name.trim().toLowerCase(),
    reach.includes('@') ? reach.trim().toLowerCase() : reach.replace(/\D/g, ''),
  ])
