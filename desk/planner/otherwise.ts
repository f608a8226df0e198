import { randomUUID } from 'node:crypto'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { Book } from '../../core/book/book.ts'
import { endOfWait } from '../../core/book/wait-over.ts'
import { WORTH_CARRYING_MIN } from '../../core/book/where-it-dries.ts'
import type { FinishFacts, GlueFacts, RangeMin, ShopFacts } from '../../core/constructions/shop-facts.ts'
import type { Addition, WaitKind } from '../../core/planning/index.ts'
import { commissionById, type Order } from '../../db/commissions.ts'
import { momentOf, type Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { bookWith, changedOrder, draftOfOrder } from '../orders/changed-order.ts'
import { readDraft } from '../orders/draft-work.ts'
import { handChanges, type HandChanges } from '../orders/hand-changes.ts'

/**
 * What an order could be planned with instead: a place that plans do not use yet, another glue, another finish. The soonest ready of each in
 * the air of these days, and only where it gains half a day there. Nothing that loses work, and nothing that suits its use less.
 */
export async function otherwise(shop: OpenShop, commissionId: string): Promise<readonly Addition[]> {
  const order = await commissionById(shop.db, commissionId)
  if (order === null) return []
  const { almanac, now } = shop
  const moment = shop.moment()
  const facts = shopFactsOf(almanac, now, order.commission.home)
  const byHand = await handChanges(shop.db, order)
  return [
    ...inAnotherPlace(shop, moment, order),
    ...GLUES_AND_FINISHES.flatMap((list) => withAnother(shop, moment, { order, byHand }, facts, list)),
  ]
}

const GLUES_AND_FINISHES = ['glue', 'finish'] as const

const planned = (shop: OpenShop, name: string, book: Book, almanac: Almanac): Addition => ({
  kind: 'otherwise',
  name,
  problem: shop.withAnnounced(
    momentOf(book, almanac, null, shop.now, shop.locale, { stock: shop.stock }).asked.problem,
  ),
})

function inAnotherPlace(shop: OpenShop, moment: Moment, order: Order): Addition[] {
  const waits = order.lags.flatMap(({ product, wait, minMin }): Wait[] =>
    product === null || wait === 'none' ? [] : [{ product, wait, minutes: minMin }],
  )
  const gains = moment.setting.places.flatMap((place) => {
    const dry = waits.filter(({ product }) => place.holdOf(product) === null)
    const gain = Math.max(0, ...dry.map((one) => later(readyFrom([one], moment), readyFrom([one], moment, place.id))))
    return place.inPlans || gain - 2 * place.carryMin < WORTH_CARRYING_MIN ? [] : [{ place, gain }]
  })
  const [best] = gains.toSorted((a, b) => (a.gain === b.gain ? 0 : b.gain - a.gain))
  if (best === undefined) return []
  const { id, name } = best.place
  const places = shop.almanac.places.map((place) => (place.id === id ? { ...place, inPlans: true } : place))
  return [planned(shop, `dry it in ${name}`, shop.book, { ...shop.almanac, places })]
}

function withAnother(
  shop: OpenShop,
  moment: Moment,
  { order, byHand }: { readonly order: Order; readonly byHand: HandChanges },
  facts: ShopFacts,
  list: (typeof GLUES_AND_FINISHES)[number],
): Addition[] {
  const draft = draftOfOrder(order, shop.almanac)
  if (!draft.ok) return []
  const used = draft.value.pieces.map(({ input }) => input[list]).find((id) => typeof id === 'string')
  const found = soonestInstead(facts, list, typeof used === 'string' ? used : '', moment)
  if (found === null) return []
  const pieces = draft.value.pieces.map((piece) =>
    piece.input[list] === used ? { ...piece, input: { ...piece.input, [list]: found.instead.id } } : piece,
  )
  const changed = { ...draft.value, pieces }
  const made = changedOrder(order, changed, readDraft(changed, shop.almanac, shop.now), shop.almanac, shop.now, {
    progress: moment.progressOf,
    newId: randomUUID,
    said: new Map(),
    byHand,
  })
  if (!made.ok || made.value.lost.length + made.value.woodLost.length > 0) return []
  const name = `use ${found.instead.name} instead of ${found.used.name}`
  return [planned(shop, name, bookWith(shop.book, made.value.order), shop.almanac)]
}

/** One of the almanac that suits the same use and is ready half a day sooner; the soonest of them, null: there is none. */
function soonestInstead(facts: ShopFacts, list: 'glue' | 'finish', id: string, moment: Moment) {
  const found = list === 'glue' ? candidates(facts.glues, id, suitsGlue) : candidates(facts.finishes, id, suitsFinish)
  if (found === null) return null
  const ready = (one: Product): number => readyFrom(waitsOf(one), moment)
  const best = found.others
    .map((instead) => ({ used: found.used, instead, at: ready(instead) }))
    .reduce<{ used: Product; instead: Product; at: number } | null>(
      (soonest, one) => (soonest === null || one.at < soonest.at ? one : soonest),
      null,
    )
  return best !== null && later(ready(found.used), best.at) >= WORTH_CARRYING_MIN ? best : null
}

type Product = GlueFacts | FinishFacts

function candidates<One extends { readonly id: string }>(
  all: readonly One[],
  id: string,
  suits: (one: One, used: One) => boolean,
): { readonly used: One; readonly others: readonly One[] } | null {
  const used = all.find((one) => one.id === id)
  return used === undefined ? null : { used, others: all.filter((one) => one.id !== id && suits(one, used)) }
}

const WATER = ['none', 'resists', 'waterproof']

const suitsGlue = (one: GlueFacts, used: GlueFacts): boolean => WATER.indexOf(one.water) >= WATER.indexOf(used.water)

const suitsFinish = (one: FinishFacts, used: FinishFacts): boolean =>
  one.schedule === undefined &&
  used.schedule === undefined &&
  one.film === used.film &&
  one.hardens === used.hardens &&
  one.onFoodPieces === used.onFoodPieces &&
  (one.nut === 'none usual' || one.nut === used.nut)

/** A wait of the almanac's figure for a glue or finish. */
interface Wait {
  readonly product: string
  readonly wait: WaitKind
  readonly minutes: number
}

function waitsOf(one: Product): readonly Wait[] {
  const drying = ({ typical }: RangeMin, times = 1): Wait => ({
    product: one.id,
    wait: 'drying',
    minutes: typical * times,
  })
  return 'mayMachine' in one
    ? [{ product: one.id, wait: 'curing', minutes: Math.max(one.clampsOff.typical, one.mayMachine.typical) }]
    : [drying(one.recoatOpens, one.coats.usual - 1), drying(one.mayPack)]
}

/** When waits that follow one another are over, were the first put on as soon as the air allows. @param place null: in the shop */
function readyFrom(waits: readonly Wait[], { now, setting }: Moment, place: string | null = null): number {
  const stays = place === null ? [] : [{ from: 0, place }]
  return waits.reduce((at, { product, wait, minutes }) => {
    const windows = setting.applicationOf(product, place)?.windows
    const open = windows === undefined ? at : windows.find(({ to }) => to > at)?.from
    if (open === undefined) return Infinity
    return endOfWait(Math.max(open, at), minutes, setting.clockOf(product, wait, stays)) ?? Infinity
  }, now)
}

/** Minutes between two instants, of which either may never come; 0 where neither does. */
const later = (one: number, other: number): number => (one === other ? 0 : one - other)
