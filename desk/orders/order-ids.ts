import { randomUUID } from 'node:crypto'
import type { OpenShop } from '../open-shop.ts'

/** Ids for one order: the same ones in the same turn, however often it is made up. So what is taken is the very work that was quoted. */
export class OrderIds {
  readonly #ids: string[] = []

  inTurn(): () => string {
    let at = 0
    return () => (this.#ids[at++] ??= randomUUID())
  }
}

const next = new WeakMap<OpenShop, OrderIds>()

/** Under which an order that is typed is quoted: it will have them in the book, if it is the next one that is taken. */
export function idsOfNextOrder(shop: OpenShop): OrderIds {
  const ids = next.get(shop) ?? new OrderIds()
  next.set(shop, ids)
  return ids
}

/** The same, for an order that is taken now: nobody else gets them. */
export function takeIdsOfNextOrder(shop: OpenShop): OrderIds {
  const ids = idsOfNextOrder(shop)
  next.delete(shop)
  return ids
}
