import { randomStream, type RandomStream } from '../planning/project/seeded-random.ts'
import { clearStretches } from './clear-stretches.ts'
import { CutTree } from './cut-tree.ts'
import type {
  BoardOnHand,
  BoardPlan,
  Cut,
  CutPart,
  CuttingPlan,
  CuttingRules,
  MissingParts,
  PartToCut,
  Region,
} from './cutting-model.ts'
import { lanesOrder } from './lanes.ts'
import { boardToBuy, quartersNm, type YardSize } from './yard.ts'

export interface CuttingOptions {
  /** Sizes to buy what the boards on hand do not give; absent: nothing is bought. */
  readonly yard?: readonly YardSize[]
  /** Layouts tried for each wood; the best is kept. */
  readonly tries?: number
  readonly seed?: number
}

/**
 * Which part is cut from which board. Parts of all orders are laid out together, by guillotine cuts with the grain fixed; boards on
 * hand are used before any is bought, thin ones before thick ones. Of many layouts that one is kept which leaves fewest parts
 * without a board, then uses up least wood (usable offcuts count as left). The same question gets the same plan.
 *
 * A layout need not be the best there is; it is never wrong: see the checker in test/core/timber.
 */
export function cuttingPlan(
  parts: readonly PartToCut[],
  boards: readonly BoardOnHand[],
  rules: CuttingRules,
  { yard = [], tries = 200, seed = 1 }: CuttingOptions = {},
): CuttingPlan {
  const woods = [...new Set(parts.map((part) => part.wood))]
  const plans: BoardPlan[] = []
  const missing: MissingParts[] = []
  for (const wood of woods) {
    const wanted = parts.filter((part) => part.wood === wood && part.quantity > 0)
    const shop: Shop = { wood, boards: boards.filter((board) => board.wood === wood), rules, yard }
    const best = bestLayout(wanted, shop, tries, seed)
    plans.push(...best.opened.map((open) => planOf(open, rules)).filter((plan) => plan.parts.length > 0))
    for (const part of wanted) {
      const quantity = best.unplaced.filter((one) => one === part).length
      if (quantity > 0) missing.push({ part, quantity, reason: whyMissing(part, shop) })
    }
  }
  return { boards: plans, missing }
}

interface Shop {
  readonly wood: string
  readonly boards: readonly BoardOnHand[]
  readonly rules: CuttingRules
  readonly yard: readonly YardSize[]
}

interface OpenBoard {
  readonly board: BoardOnHand
  readonly bought: boolean
  readonly cuts: readonly Cut[]
  readonly trees: readonly CutTree[]
  /** Free pieces of it, in the order in which they came up. */
  free: CutTree[]
  started: boolean
}

interface Layout {
  readonly opened: readonly OpenBoard[]
  readonly unplaced: readonly PartToCut[]
}

/** How one layout is made: which parts first, where a part goes, which cut is made first. */
interface Manner {
  readonly order: readonly PartToCut[]
  readonly fit: 'short-side' | 'area' | 'first'
  readonly split: 'longer-rest' | 'crosscut' | 'rip'
  /** Which of the yard's sizes that hold the part is bought: 0 the smallest, 1 the largest. */
  readonly buyLarge: number
}

function bestLayout(wanted: readonly PartToCut[], shop: Shop, tries: number, seed: number): Layout {
  const copies = wanted.flatMap((part) => Array.from({ length: part.quantity }, () => part))
  const random = randomStream(seed)
  let best: Layout | null = null
  let bestCost: Cost = { unplaced: Infinity, used: Infinity }
  for (const manner of manners(copies, shop, tries, random)) {
    const layout = layOut(manner, shop)
    const cost = costOf(layout, shop.rules)
    if (cost.unplaced < bestCost.unplaced || (cost.unplaced === bestCost.unplaced && cost.used < bestCost.used)) {
      best = layout
      bestCost = cost
    }
  }
  return best ?? { opened: [], unplaced: copies }
}

/** The usual orders first, then chance around them. */
function* manners(
  copies: readonly PartToCut[],
  shop: Shop,
  tries: number,
  random: RandomStream,
): Generator<Manner, void, undefined> {
  const keys: readonly ((part: PartToCut) => number)[] = [
    (part) => part.lengthNm * part.widthNm,
    (part) => part.lengthNm + part.widthNm / 1000,
    (part) => part.widthNm + part.lengthNm / 1000,
    (part) => part.lengthNm + part.widthNm,
  ]
  const longest = Math.max(0, ...shop.boards.map((board) => board.lengthNm), ...shop.yard.map((size) => size.lengthNm))
  const lanes = lanesOrder(copies, longest - 2 * shop.rules.squareEndNm, shop.rules.kerfNm)
  const fits = ['short-side', 'first', 'area'] as const
  const splits = ['rip', 'crosscut', 'longer-rest'] as const
  let made = 0
  for (const fit of fits) {
    for (const split of splits) {
      for (const order of [lanes, ...keys.map((key) => sorted(copies, key))]) {
        for (const buyLarge of shop.yard.length > 0 ? [0, 1] : [0]) {
          yield { order, fit, split, buyLarge }
          if (++made >= tries) return
        }
      }
    }
  }
  for (; made < tries; made++) {
    const key = keys[random.below(keys.length)]!
    const noise = 0.1 + 0.5 * random.fraction()
    const factor = new Map(copies.map((part) => [part, 1 + noise * (random.fraction() - 0.5)]))
    yield {
      order: sorted(copies, (part) => key(part) * factor.get(part)! * (1 + 0.05 * (random.fraction() - 0.5))),
      fit: fits[random.below(fits.length)]!,
      split: splits[random.below(splits.length)]!,
      buyLarge: random.fraction(),
    }
  }
}

function sorted(copies: readonly PartToCut[], key: (part: PartToCut) => number): PartToCut[] {
  const keyed = copies.map((part) => ({ part, key: key(part) }))
  return keyed.toSorted((a, b) => b.key - a.key).map(({ part }) => part)
}

function layOut(manner: Manner, shop: Shop): Layout {
  const { rules } = shop
  const opened = shop.boards.map((board) => open(board, false, rules))
  const unplaced: PartToCut[] = []
  for (const part of manner.order) {
    const place = bestPlace(part, opened, manner.fit, rules)
    if (place !== null) {
      lay(part, place.open, place.tree, manner.split, rules)
      continue
    }
    const size = sizeToBuy(part, shop, manner.buyLarge)
    if (size === null) {
      unplaced.push(part)
      continue
    }
    const bought = open(boardToBuy(shop.wood, size, opened.length + 1), true, rules)
    opened.push(bought)
    lay(part, bought, bought.free[0]!, manner.split, rules)
  }
  return { opened, unplaced }
}

function open(board: BoardOnHand, bought: boolean, rules: CuttingRules): OpenBoard {
  const { regions, cuts } = clearStretches(board, rules.kerfNm, rules.squareEndNm)
  const trees = regions.map((region) => new CutTree(region))
  return { board, bought, cuts, trees, free: [...trees], started: false }
}

function bestPlace(
  part: PartToCut,
  opened: readonly OpenBoard[],
  fit: Manner['fit'],
  rules: CuttingRules,
): Place | null {
  let best: Place | null = null
  for (const [index, candidate] of opened.entries()) {
    const spareNm = candidate.board.thicknessNm - part.thicknessNm - rules.planeFacesNm
    if (spareNm < 0) continue
    for (const tree of candidate.free) {
      const overLength = tree.region.lengthNm - part.lengthNm
      const overWidth = tree.region.widthNm - part.widthNm
      if (overLength < 0 || overWidth < 0) continue
      const area = tree.region.lengthNm * tree.region.widthNm - part.lengthNm * part.widthNm
      const loose = fit === 'first' ? index : fit === 'short-side' ? Math.min(overLength, overWidth) : area
      const place = { open: candidate, tree, spareNm, loose }
      if (best === null || isBetter(place, best)) best = place
    }
  }
  return best
}

interface Place {
  readonly open: OpenBoard
  readonly tree: CutTree
  /** Thickness that is planed away for nothing. */
  readonly spareNm: number
  readonly loose: number
}

/** Thin boards before thick ones, started ones before whole ones, then the closest fit. */
function isBetter(one: Place, other: Place): boolean {
  if (one.spareNm !== other.spareNm) return one.spareNm < other.spareNm
  if (one.open.started !== other.open.started) return one.open.started
  return one.loose < other.loose
}

function lay(part: PartToCut, place: OpenBoard, tree: CutTree, split: Manner['split'], rules: CuttingRules): void {
  const { lengthNm, widthNm } = tree.region
  const way = split === 'longer-rest' ? (lengthNm - part.lengthNm > widthNm - part.widthNm ? 'crosscut' : 'rip') : split
  const rest = tree.lay(part.id, part.lengthNm, part.widthNm, way, rules.kerfNm)
  place.free = [...place.free.filter((one) => one !== tree), ...rest]
  place.started = true
}

function sizeToBuy(part: PartToCut, shop: Shop, buyLarge: number): YardSize | null {
  const { rules } = shop
  const trim = 2 * (rules.squareEndNm > 0 ? Math.max(rules.squareEndNm, rules.kerfNm) : 0)
  const holding = shop.yard.filter(
    ({ quarters, widthNm, lengthNm }) =>
      quartersNm(quarters) >= part.thicknessNm + rules.planeFacesNm &&
      widthNm >= part.widthNm &&
      lengthNm - trim >= part.lengthNm,
  )
  const thinnest = Math.min(...holding.map((size) => size.quarters))
  const thin = holding
    .filter((size) => size.quarters === thinnest)
    .toSorted((a, b) => a.lengthNm * a.widthNm - b.lengthNm * b.widthNm)
  return thin[Math.round(buyLarge * (thin.length - 1))] ?? null
}

interface Cost {
  readonly unplaced: number
  readonly used: number
}

/** Wood used up, as volume; what must be bought counts twice, so that boards on hand go first. */
function costOf({ opened, unplaced }: Layout, rules: CuttingRules): Cost {
  let used = 0
  for (const one of opened) {
    if (!one.started) continue
    const { thicknessNm, widthNm, lengthNm } = one.board
    let kept = 0
    for (const { region } of one.free) if (isUsable(region, rules)) kept += region.lengthNm * region.widthNm
    used += (one.bought ? 2 : 1) * thicknessNm * (widthNm * lengthNm - OFFCUT_WORTH * kept)
  }
  return { unplaced: unplaced.reduce((sum, part) => sum + part.lengthNm * part.widthNm, 0), used }
}

/** A usable offcut is worth less than the same wood in a whole board; common practice, no source. */
const OFFCUT_WORTH = 0.8

const isUsable = (region: Region, rules: CuttingRules): boolean =>
  region.lengthNm >= rules.usableLengthNm && region.widthNm >= rules.usableWidthNm

function planOf({ board, bought, cuts: first, trees }: OpenBoard, rules: CuttingRules): BoardPlan {
  const cuts: Cut[] = [...first]
  const parts: CutPart[] = []
  const free: Region[] = []
  for (const tree of trees) tree.collect(cuts, parts, free)
  return { board, bought, cuts, parts, offcuts: free.filter((region) => isUsable(region, rules)) }
}

function whyMissing(part: PartToCut, { boards, yard, rules }: Shop): string {
  const thickness = part.thicknessNm + rules.planeFacesNm
  const sizes = [
    ...boards.map(({ thicknessNm, widthNm, lengthNm }) => ({ thicknessNm, widthNm, lengthNm })),
    ...yard.map(({ quarters, widthNm, lengthNm }) => ({ thicknessNm: quartersNm(quarters), widthNm, lengthNm })),
  ]
  const name = `${part.name} for ${part.forPiece}`
  if (sizes.length === 0) return `${name}: there is no board of this wood.`
  const thick = sizes.filter((size) => size.thicknessNm >= thickness)
  if (thick.length === 0) return `${name} is thicker than any board: glue it up from thinner ones.`
  if (thick.every((size) => size.widthNm < part.widthNm)) {
    return `${name} is wider than any board: glue it up from narrower ones.`
  }
  if (thick.every((size) => size.lengthNm < part.lengthNm)) return `${name} is longer than any board.`
  return `${name}: the boards that are large enough are used up, or have defects in the way.`
}
