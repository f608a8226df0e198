import { isMoreThanWorkSince, lastEntryId } from '../db/log.ts'
import type { OpenShop } from './open-shop.ts'

interface Kept {
  /** Number of the newest entry of the log when it was found. */
  readonly upTo: number
  readonly facts: readonly unknown[]
  readonly value: Promise<unknown>
}

const kept = new WeakMap<OpenShop, Map<string, Kept>>()

/**
 * Keeps what follows from customers and closed orders, of which there are thousands after years, until something else is written down
 * than work at open orders: a press at the bench finds it as it was.
 * @param facts it is found anew with other ones
 */
export async function keptUntilMore<T>(
  shop: OpenShop,
  name: string,
  facts: readonly unknown[],
  find: () => Promise<T>,
): Promise<T> {
  const ofShop = kept.get(shop) ?? new Map<string, Kept>()
  kept.set(shop, ofShop)
  const upTo = await lastEntryId(shop.db)
  const more = await lastMore(shop, upTo)
  const before = ofShop.get(name)
  if (before !== undefined && before.upTo >= more && before.facts.every((fact, at) => fact === facts[at]))
    return before.value as Promise<T>
  const now: Kept = { upTo, facts, value: find() }
  ofShop.set(name, now)
  now.value.catch(() => {
    if (ofShop.get(name) === now) ofShop.delete(name)
  })
  return now.value as Promise<T>
}

interface LookedThrough {
  /** Number of the newest entry that was looked at. */
  readonly upTo: number
  /** Up to this one there may be more than work at orders that were open then; after it there is not. */
  readonly more: Promise<number>
}

const lookedThrough = new WeakMap<OpenShop, LookedThrough>()

/** Each entry is looked at once, however much is kept. */
export function lastMore(shop: OpenShop, upTo: number): Promise<number> {
  const before = lookedThrough.get(shop)
  if (before !== undefined && before.upTo >= upTo) return before.more
  const now: LookedThrough = { upTo, more: before === undefined ? Promise.resolve(upTo) : lookOn(shop, before, upTo) }
  lookedThrough.set(shop, now)
  now.more.catch(() => {
    if (lookedThrough.get(shop) === now) lookedThrough.delete(shop)
  })
  return now.more
}

const lookOn = async (shop: OpenShop, before: LookedThrough, upTo: number): Promise<number> =>
  (await isMoreThanWorkSince(shop.db, before.upTo)) ? upTo : before.more
