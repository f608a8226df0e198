import { isMoreThanWorkSince, lastEntryId } from '../db/log.ts'
import type { OpenShop } from './open-shop.ts'

interface Kept {
  /** Number of the newest entry of the log that it still holds for. */
  upTo: number
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
  const before = ofShop.get(name)
  if (before !== undefined && before.facts.every((fact, at) => fact === facts[at])) {
    if (before.upTo === upTo || !(await isMoreThanWorkSince(shop.db, before.upTo))) {
      before.upTo = upTo
      return before.value as Promise<T>
    }
  }
  const now: Kept = { upTo, facts, value: find() }
  ofShop.set(name, now)
  now.value.catch(() => {
    if (ofShop.get(name) === now) ofShop.delete(name)
  })
  return now.value as Promise<T>
}
