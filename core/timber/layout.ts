import type { RandomStream } from '../planning/project/seeded-random.ts'
import { clearStretches } from './clear-stretches.ts'
import { CutTree } from './cut-tree.ts'
import type { BoardOnHand, Cut, CuttingRules, PartToCut, Region } from './cutting-model.ts'
import { boardToBuy, quartersNm, type YardSize } from './yard.ts'

/** What parts of one wood can be cut from. */
export interface Shop {
  readonly wood: string
  readonly boards: readonly Source[]
  readonly rules: CuttingRules
  readonly yard: readonly YardSize[]
}

/** A board, on hand or already decided to be bought. */
export interface Source {
  readonly board: BoardOnHand
  readonly bought: boolean
}

/** A board while parts are laid out on it. */
export interface OpenBoard {
  readonly board: BoardOnHand
  readonly bought: boolean
  readonly cuts: readonly Cut[]
  readonly trees: readonly CutTree[]
  /** Free pieces of it, in the order in which they came up. */
  free: CutTree[]
  readonly laid: PartToCut[]
}

export interface Layout {
  readonly opened: readonly OpenBoard[]
  readonly unplaced: readonly PartToCut[]
}

/** How one layout is made: which parts first, where a part goes, which cut is made first. */
export interface Manner {
  readonly order: readonly PartToCut[]
  readonly fit: 'short-side' | 'area' | 'first'
  /** `mixed`: decided by chance for each part. */
  readonly split: 'longer-rest' | 'crosscut' | 'rip' | 'mixed'
  /** Which of the yard's sizes that hold the part is bought: 0 the smallest, 1 the largest. */
  readonly buyLarge: number
}

/** Lays out parts one after the other, each where it fits best, and opens a board to buy where none on hand holds it. */
export function layOut(manner: Manner, shop: Shop, random: RandomStream): Layout {
  const { rules } = shop
  const opened = shop.boards.map((source) => open(source, rules))
  const unplaced: PartToCut[] = []
  for (const part of manner.order) {
    const place = bestPlace(part, opened, manner.fit, rules)
    if (place !== null) {
      lay(part, place.open, place.tree, manner.split, rules, random)
      continue
    }
    const size = sizeToBuy(part, shop, manner.buyLarge)
    if (size === null) {
      unplaced.push(part)
      continue
    }
    const bought = open({ board: boardToBuy(shop.wood, size), bought: true }, rules)
    opened.push(bought)
    lay(part, bought, bought.free[0]!, manner.split, rules, random)
  }
  return { opened, unplaced }
}

function open({ board, bought }: Source, rules: CuttingRules): OpenBoard {
  const { regions, cuts } = clearStretches(board, rules.kerfNm, rules.squareEndNm)
  const trees = regions.map((region) => new CutTree(region))
  return { board, bought, cuts, trees, free: [...trees], laid: [] }
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
  const started = one.open.laid.length > 0
  if (started !== other.open.laid.length > 0) return started
  return one.loose < other.loose
}

function lay(
  part: PartToCut,
  place: OpenBoard,
  tree: CutTree,
  split: Manner['split'],
  rules: CuttingRules,
  random: RandomStream,
): void {
  const { lengthNm, widthNm } = tree.region
  const longer = lengthNm - part.lengthNm > widthNm - part.widthNm ? 'crosscut' : 'rip'
  const mixed = split === 'mixed' && random.fraction() < 0.5 ? 'crosscut' : 'rip'
  const way = split === 'longer-rest' ? longer : split === 'mixed' ? mixed : split
  const rest = tree.lay(part.id, part.lengthNm, part.widthNm, way, rules.kerfNm)
  place.free = [...place.free.filter((one) => one !== tree), ...rest]
  place.laid.push(part)
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

export interface Cost {
  /** Area of parts without a board. */
  readonly unplaced: number
  /** Wood used up, as volume. */
  readonly used: number
  /** `used`, less what full boards are better than half-empty ones: what a search goes by. */
  readonly promise: number
}

/** What a layout uses up; what must be bought counts twice, so that boards on hand go first. */
export function costOf({ opened, unplaced }: Layout, rules: CuttingRules): Cost {
  let used = 0
  let fullness = 0
  for (const one of opened) {
    if (one.laid.length === 0) continue
    const { thicknessNm, widthNm, lengthNm } = one.board
    const weight = (one.bought ? 2 : 1) * thicknessNm
    let kept = 0
    for (const { region } of one.free) if (isUsable(region, rules)) kept += region.lengthNm * region.widthNm
    used += weight * (widthNm * lengthNm - OFFCUT_WORTH * kept)
    const filled = one.laid.reduce((sum, part) => sum + part.lengthNm * part.widthNm, 0)
    fullness += (weight * filled ** 2) / (widthNm * lengthNm)
  }
  return {
    unplaced: unplaced.reduce((sum, part) => sum + part.lengthNm * part.widthNm, 0),
    used,
    promise: used - fullness,
  }
}

/** A usable offcut is worth less than the same wood in a whole board; common practice, no source. */
const OFFCUT_WORTH = 0.8

export const isUsable = (region: Region, rules: CuttingRules): boolean =>
  region.lengthNm >= rules.usableLengthNm && region.widthNm >= rules.usableWidthNm
