import { randomStream, type RandomStream } from '../chance/seeded-random.ts'
import type { PartToCut } from './cutting-model.ts'
import { lanesOrder } from './lanes.ts'
import {
  costOf,
  layOut,
  openBoard,
  type Cost,
  type Layout,
  type Manner,
  type OpenBoard,
  type WoodToCutFrom,
} from './layout.ts'

/**
 * The best of the usual layouts, then laid out anew a few boards at a time: their parts are taken off and put on again in another
 * order, and what is no worse is kept.
 * @param tries layouts made in all, whole ones and new ones of a few boards
 */
export function bestLayout(wanted: readonly PartToCut[], shop: WoodToCutFrom, tries: number, seed: number): Layout {
  const copies = wanted.flatMap((part) => Array.from({ length: part.quantity }, () => part))
  const random = randomStream(seed)
  let best: Layout = { opened: [], unplaced: copies }
  let bestCost: Cost = { unplaced: Infinity, bought: Infinity, used: Infinity, promise: Infinity }
  let made = 0
  for (const manner of usualManners(copies, shop)) {
    if (made++ >= tries) break
    const boards = shop.boards.map((source) => openBoard(source, shop.rules))
    const layout = layOut(manner, boards, shop, random)
    const cost = costOf(layout, shop.rules)
    if (isBetter(cost, bestCost)) {
      best = layout
      bestCost = cost
    }
  }
  let current = best
  let currentCost = bestCost
  for (; made < tries && copies.length > 1; made++) {
    const next = laidAnew(current, shop, random)
    const cost = costOf(next, shop.rules)
    if (isMorePromising(currentCost, cost)) continue
    current = next
    currentCost = cost
    if (isBetter(cost, bestCost)) {
      best = next
      bestCost = cost
    }
  }
  return withNothingNeedless(best, shop, random)
}

/** Hands boards back to the yard whose parts all find room on boards on hand and on what others leave. */
function withNothingNeedless(layout: Layout, shop: WoodToCutFrom, random: RandomStream): Layout {
  const closed: WoodToCutFrom = { ...shop, yard: [] }
  let { opened } = layout
  for (const { board } of opened.filter(({ bought }) => bought)) {
    const parts = opened.flatMap((open) => (open.board === board ? open.laid : []))
    const others = opened.filter((open) => open.board !== board)
    for (const manner of usualManners(parts, closed)) {
      const again = layOut(manner, others, closed, random)
      if (again.unplaced.length > 0) continue
      opened = again.opened
      break
    }
  }
  return { ...layout, opened }
}

const isBetter = (one: Cost, other: Cost): boolean =>
  one.unplaced !== other.unplaced
    ? one.unplaced < other.unplaced
    : one.bought !== other.bought
      ? one.bought < other.bought
      : one.used < other.used

const isMorePromising = (one: Cost, other: Cost): boolean =>
  one.unplaced < other.unplaced || (one.unplaced === other.unplaced && one.promise < other.promise)

const ORDERS: readonly ((part: PartToCut) => number)[] = [
  (part) => part.lengthNm * part.widthNm,
  (part) => part.lengthNm + part.widthNm / 1000,
  (part) => part.widthNm + part.lengthNm / 1000,
  (part) => part.lengthNm + part.widthNm,
]
const FITS = ['short-side', 'first', 'area'] as const
const SPLITS = ['rip', 'crosscut', 'longer-rest', 'mixed'] as const

/** Every usual order of parts with every way to fit and to split. */
function* usualManners(copies: readonly PartToCut[], shop: WoodToCutFrom): Generator<Manner, void, undefined> {
  const longest = Math.max(
    0,
    ...shop.boards.map(({ board }) => board.lengthNm),
    ...shop.yard.map((size) => size.lengthNm),
  )
  const lanes = lanesOrder(copies, longest - 2 * shop.rules.squareEndNm, shop.rules.kerfNm)
  for (const fit of FITS) {
    for (const split of SPLITS.slice(0, 3)) {
      for (const order of [lanes, ...ORDERS.map((key) => sorted(copies, key))]) {
        for (const buyLarge of shop.yard.length > 0 ? [0, 1] : [0]) yield { order, fit, split, buyLarge }
      }
    }
  }
}

/** Takes the parts off a few boards, tries them again there in an order of chance, together with those that had no board. */
function laidAnew({ opened, unplaced }: Layout, shop: WoodToCutFrom, random: RandomStream): Layout {
  const started = opened.filter((open) => open.laid.length > 0)
  const cleared = new Set<OpenBoard>()
  const howMany = Math.min(started.length, 1 + random.below(3))
  while (cleared.size < howMany) cleared.add(started[random.below(started.length)]!)
  const idle = opened.filter((open) => open.laid.length === 0 && !open.bought)
  const kept = opened.filter((open) => !cleared.has(open) && !idle.includes(open))
  const key = ORDERS[random.below(ORDERS.length)]!
  const noise = 0.2 + random.fraction()
  const parts = [...cleared].flatMap((open) => open.laid)
  const order = sorted([...parts, ...unplaced], (part) => key(part) * (1 + noise * (random.fraction() - 0.5)))
  const manner: Manner = {
    order,
    fit: FITS[random.below(FITS.length)]!,
    split: SPLITS[random.below(SPLITS.length)]!,
    buyLarge: random.fraction(),
  }
  const emptied = shuffled(
    [...cleared].filter(({ bought }) => !bought),
    random,
  ).map((open) => openBoard(open, shop.rules))
  const again = layOut(manner, [...emptied, ...idle, ...kept], shop, random)
  return { opened: again.opened.filter((open) => open.laid.length > 0 || !open.bought), unplaced: again.unplaced }
}

function shuffled<T>(things: T[], random: RandomStream): T[] {
  for (let last = things.length - 1; last > 0; last--) {
    const other = random.below(last + 1)
    ;[things[last], things[other]] = [things[other]!, things[last]!]
  }
  return things
}

function sorted(copies: readonly PartToCut[], key: (part: PartToCut) => number): PartToCut[] {
  const keyed = copies.map((part) => ({ part, key: key(part) }))
  return keyed.toSorted((a, b) => b.key - a.key).map(({ part }) => part)
}
