import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { erasePerson } from '../../db/erase-person.ts'
import { leavingOut } from '../../db/leave-out.ts'
import { personInBook, type PersonInBook } from '../../db/person.ts'
import type { OpenShop } from '../open-shop.ts'
import { knownCustomers, people, type KnownCustomer } from '../orders/known-customers.ts'
import type { Moved } from '../moved.ts'

/** What erasing a person would do, to be read before it is done. */
export interface ErasingView {
  readonly name: string
  /** Numbers of the orders that lose the name. */
  readonly orders: readonly number[]
  /** Orders that have to be handed over or canceled first. */
  readonly open: readonly number[]
  readonly drafts: number
  /** Invoices, credit notes and receipts, which stay as issued unless asked for; other papers lose the name. */
  readonly papersKept: number
  readonly papersChanged: number
  /** Orders of others that name the person; nothing is changed there. */
  readonly namedIn: readonly number[]
  /** Woods, glues and finishes of the almanac in whose names the person's name stands: they keep it. */
  readonly sameName: readonly string[]
}

export async function whatErasingDoes(shop: OpenShop, customerId: string): Promise<Result<ErasingView>> {
  const known = await knownCustomer(shop, customerId)
  if (!known.ok) return known
  const found = await personInBook(shop.db, known.value.customerIds)
  const out = leavingOut(found.phrases)
  return ok({
    name: known.value.customer.name,
    orders: found.orders.map(({ number }) => number),
    open: openOrders(found),
    drafts: found.draftIds.length,
    papersKept: found.papers.kept,
    papersChanged: found.papers.others,
    namedIn: found.namedIn,
    sameName: [...shop.almanac.woods, ...shop.almanac.glues, ...shop.almanac.finishes]
      .map(({ name }) => name)
      .filter((name) => out.isIn(name)),
  })
}

/** Problems: `unknown-customer`, `order-open`. */
export async function erase(
  shop: OpenShop,
  customerId: string,
  how: { readonly fromPapersKeptByLaw: boolean },
): Promise<Result<Moved>> {
  const known = await knownCustomer(shop, customerId)
  if (!known.ok) return known
  const moved = await shop.change(async (db) => {
    const found = await personInBook(db, known.value.customerIds)
    const [open] = openOrders(found)
    if (open !== undefined)
      return failed(problem('order-open', `No. ${open} is still open. Hand it over or cancel it first.`))
    await erasePerson(db, found, how, { atMs: shop.nowMs, makerId: null })
    return ok('Customer erased.')
  })
  if (!moved.ok) return moved
  const isWiped = await shop.file.wipeRemains()
  const said = isWiped
    ? moved.value.said
    : `${moved.value.said} Traces stay in the file until the disk has room: restart then.`
  // What was done before it can be undone, but not from the line that tells of this.
  return ok({ said, entryId: null })
}

const openOrders = ({ orders }: PersonInBook): number[] =>
  orders.filter(({ isOpen }) => isOpen).map(({ number }) => number)

export async function knownCustomer(shop: OpenShop, customerId: string): Promise<Result<KnownCustomer>> {
  const person = (await people(shop)).filter((same) => same.some(({ id }) => id === customerId))
  const [known] = await knownCustomers(shop, person)
  return known === undefined
    ? failed(problem('unknown-customer', 'This customer is not in the book any more. Look at the list again.'))
    : ok(known)
}
