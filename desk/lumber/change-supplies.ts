import { randomUUID } from 'node:crypto'
import { nextBuyingDay } from '../../core/book/lumber.ts'
import type { Supply } from '../../core/book/supplies.ts'
import { failed, ok, problem, within, type Problem, type Result } from '../../core/problems.ts'
import { readAmount } from '../../core/timber/supply-amount.ts'
import { daysLater, localDay, type LocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { removeSupply, saveSupply, type SupplyCounted } from '../../db/supplies.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'

/** A glue or finish of the almanac, or something listed by name. */
export type SupplyRef = { readonly productId: string } | { readonly id: string }

/** What stands in the form; empty: not counted, no mark. `name` counts for hardware alone. */
export interface SupplyInput {
  readonly name: string
  readonly amount: string
  readonly reorderAt: string
}

/** Changes what is in stock, or lists something new (an empty id). */
export async function saveStock(shop: OpenShop, ref: SupplyRef, input: SupplyInput): Promise<Result<Moved>> {
  const isNew = 'id' in ref && ref.id === ''
  const known = isNew ? newHardware(input.name) : supplyOf(shop, ref)
  if (known === null) return failed(MISSING)
  const { units } = shop.almanac.shop
  const problems: Problem[] = []
  const amountIn = (field: 'amount' | 'reorderAt'): number | null => {
    const read = readAmount(input[field], known.kind, units)
    if (read.ok) return read.value
    problems.push(...read.problems.map(({ code, message }) => within(field, { code, message })))
    return null
  }
  const [amount, reorderAt] = [amountIn('amount'), amountIn('reorderAt')]
  const name = known.productId === null ? input.name.trim() : known.name
  if (name === '') problems.push(problem('missing', 'What is it? Type a name, such as Butt hinges 2 in.', 'name'))
  if (problems.length > 0) return failed(...problems)
  return keep(shop, { ...known, name, amount, reorderAt }, 'supply-changed', `In stock: ${name}.`)
}

/** There is none left: what needs it waits until the next buying day, or the day that is said. */
export function outOf(shop: OpenShop, ref: SupplyRef, on: LocalDay | null): Promise<Result<Moved>> | Result<Moved> {
  const known = supplyOf(shop, ref)
  if (known === null) return failed(MISSING)
  const today = localDay(shop.now, shop.almanac.shop.timeZone)
  if (on !== null && on < today) return failed(problem('past', 'That day is past: choose one from today on.', 'on'))
  const expectedOn = on ?? nextBuyingDay(daysLater(today, -1), today, shop.almanac.buyingDay)
  const when = writeLocalDay(expectedOn, shop.locale)
  return keep(
    shop,
    { ...known, amount: known.amount === null ? null : 0, outSince: known.outSince ?? today, expectedOn },
    'supply-out',
    `Out of ${known.name}, expected ${when}.`,
  )
}

/** It is here: what waited for it may go on. How much there is now is not known until it is typed. */
export function hereAgain(shop: OpenShop, ref: SupplyRef): Promise<Result<Moved>> | Result<Moved> {
  const known = supplyOf(shop, ref)
  if (known === null) return failed(MISSING)
  const amount = known.amount === 0 ? null : known.amount
  return keep(shop, { ...known, amount, outSince: null, expectedOn: null }, 'supply-here', `Here again: ${known.name}.`)
}

const MISSING = problem('supply-missing', 'This is not on the list any more.')

export const takeOffList = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  shop.change(async (db) => {
    const removed = await removeSupply(db, id, { atMs: shop.nowMs, makerId: null })
    return removed.ok ? ok(`Off the list: ${removed.value.name}.`) : removed
  })

const keep = (shop: OpenShop, supply: Supply, action: SupplyCounted, said: string): Promise<Result<Moved>> =>
  shop.change(async (db) => {
    await saveSupply(db, supply, { atMs: shop.nowMs, makerId: null }, action)
    return ok(said)
  })

/** As it is kept, or as a product of the almanac that nothing is kept of yet; null: no such thing. */
function supplyOf({ stock: { supplies }, almanac }: OpenShop, ref: SupplyRef): Supply | null {
  if ('id' in ref) return supplies.find(({ id }) => id === ref.id) ?? null
  const { productId } = ref
  const glue = almanac.glues.find(({ id }) => id === productId)
  const product = glue ?? almanac.finishes.find(({ id }) => id === productId)
  const kept = supplies.find((one) => one.productId === productId)
  if (product === undefined) return kept ?? null
  const { name } = product
  return kept === undefined
    ? { id: randomUUID(), name, kind: glue === undefined ? 'finish' : 'glue', productId, ...UNCOUNTED }
    : { ...kept, name }
}

const UNCOUNTED = { amount: null, reorderAt: null, outSince: null, expectedOn: null } as const

const newHardware = (name: string): Supply => ({
  ...{ id: randomUUID(), name: name.trim(), kind: 'hardware', productId: null },
  ...UNCOUNTED,
})
