import type { Almanac } from '../../core/almanac/almanac.ts'
import type { SupplyUse } from '../../core/timber/consumables-used.ts'
import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { lastEntryId, ordersSince } from '../../db/log.ts'
import { ordersWorkedOn } from '../../db/orders-in-year.ts'
import { Turns } from '../../db/turns.ts'
import type { OpenShop } from '../open-shop.ts'
import { othersFirst } from '../others-first.ts'
import { suppliesUsed } from './supplies-used.ts'

/** What a step took, and the civil day on which it was done. */
export interface SupplyTaken extends SupplyUse {
  readonly day: LocalDay
}

/** What orders have taken, up to an entry of the log. */
interface Read {
  readonly almanac: Almanac
  /** Orders on which nobody worked since then are not in it. */
  readonly sinceMs: number
  readonly upTo: number
  readonly byOrder: ReadonlyMap<string, readonly SupplyTaken[]>
  readonly all: readonly SupplyTaken[]
}

interface Kept {
  readonly turns: Turns
  read: Read | null
}

const kept = new WeakMap<object, Kept>()

/**
 * Everything that was taken since then, oldest first, and some of what was taken before. The same object for as long as it is the same: in
 * ten years thousands of orders take something, and only those are looked at again about which something was written down.
 */
export function suppliesTaken(
  shop: Pick<OpenShop, 'db' | 'almanac'>,
  sinceMs: number,
): Promise<readonly SupplyTaken[]> {
  const own = kept.get(shop) ?? { turns: new Turns(), read: null }
  kept.set(shop, own)
  return own.turns.take(async () => (own.read = await readOn(shop, sinceMs, own.read)).all)
}

async function readOn(
  { db, almanac }: Pick<OpenShop, 'db' | 'almanac'>,
  sinceMs: number,
  kept: Read | null,
): Promise<Read> {
  const upTo = await lastEntryId(db)
  const before = kept?.almanac === almanac ? kept : null
  if (before !== null && before.upTo === upTo && before.sinceMs <= sinceMs) return before
  const more = before === null ? [] : await ordersSince(db, before.upTo)
  const untilMs = before?.sinceMs ?? Infinity
  const older = sinceMs < untilMs ? await ordersWorkedOn(db, sinceMs, untilMs) : []
  const again = new Set([...more, ...older.filter((id) => before?.byOrder.has(id) !== true)])
  const found = await takenBy([...again])
  const byOrder = new Map([...(before?.byOrder ?? []), ...found])
  const isSame = before !== null && [...found].every(([id, taken]) => isEqual(taken, before.byOrder.get(id) ?? []))
  return {
    ...{ almanac, upTo, byOrder, sinceMs: Math.min(sinceMs, untilMs) },
    all: isSame ? before.all : [...byOrder.values()].flat().sort(oldestFirst),
  }

  async function takenBy(ids: readonly string[]): Promise<ReadonlyMap<string, readonly SupplyTaken[]>> {
    const taken = new Map<string, readonly SupplyTaken[]>()
    for (let at = 0; at < ids.length; at += ORDERS_AT_ONCE) {
      const part = ids.slice(at, at + ORDERS_AT_ONCE)
      const book = await bookOfCommissions(db, part)
      const steps = Map.groupBy(book.steps, ({ commissionId }) => commissionId)
      const orderOf = new Map(book.steps.map((step) => [step.id, step.commissionId]))
      const log = Map.groupBy(book.log, ({ stepId }) => orderOf.get(stepId))
      for (const id of part) {
        const uses = suppliesUsed({ ...book, steps: steps.get(id) ?? [], log: log.get(id) ?? [] }, almanac)
        taken.set(
          id,
          uses.map((use) => ({ ...use, day: localDay(use.atMin, almanac.shop.timeZone) })),
        )
      }
      await othersFirst()
    }
    return taken
  }
}

/** Of so many the reading takes a hundredth of a second or two. */
const ORDERS_AT_ONCE = 20

/** In one order however they were read, so that the same is added up to the same. */
const oldestFirst = (a: SupplyTaken, b: SupplyTaken): number =>
  a.atMin - b.atMin || (a.product < b.product ? -1 : a.product > b.product ? 1 : a.amount - b.amount)

const isEqual = (one: readonly SupplyTaken[], other: readonly SupplyTaken[]): boolean =>
  one.length === other.length &&
  one.every(({ product, amount, atMin }, at) => {
    const same = other[at]!
    return product === same.product && amount === same.amount && atMin === same.atMin
  })
