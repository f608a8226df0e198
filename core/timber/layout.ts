import { planedOff } from '../wood/rough-thickness.ts'
import type { RandomStream } from '../chance/seeded-random.ts'
import { clearStretches } from './clear-stretches.ts'
import { CutTree } from './cut-tree.ts'
import type { BoardOnHand, Cut, CuttingRules, PartToCut, Region } from './cutting-model.ts'
import { boardToBuy, type YardSize } from './yard.ts'

/** What parts of one wood can be cut from. */
export interface WoodToCutFrom {
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
  /** Free pieces of it, from its left end on. */
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

/**
 * Lays out parts one after the other, each where it fits best, and opens a board to buy where none holds it.
 * @param begun boards to lay them on, with what is laid on them already; they stay as they are
 */
export function layOut(manner: Manner, begun: readonly OpenBoard[], shop: WoodToCutFrom, random: RandomStream): Layout {
  const { rules } = shop
  const opened = [...begun]
  const unplaced: PartToCut[] = []
  const layAt = (part: PartToCut, at: number, free: number): void => {
    const own = opened[at]!
    const open = own === begun[at] ? copyOf(own) : own
    opened[at] = open
    lay(part, open, open.free[free]!, manner.split, rules, random)
  }
  for (const part of manner.order) {
    const place = bestPlace(part, opened, manner.fit, rules)
    if (place !== null) {
      layAt(part, place.at, place.free)
      continue
    }
    const size = sizeToBuy(part, shop, manner.buyLarge)
    if (size === null) {
      unplaced.push(part)
      continue
    }
    opened.push(openBoard({ board: boardToBuy(shop.wood, size), bought: true }, rules))
    layAt(part, opened.length - 1, 0)
  }
  return { opened, unplaced }
}

/** A board with nothing laid on it, its ends squared and its defects cut out. */
export function openBoard({ board, bought }: Source, rules: CuttingRules): OpenBoard {
  const { regions, cuts } = clearStretches(board, rules.kerfNm, rules.squareEndNm)
  const trees = regions.map((region) => new CutTree(region))
  return { board, bought, cuts, trees, free: [...trees], laid: [] }
}

function copyOf(open: OpenBoard): OpenBoard {
  const trees = open.trees.map((tree) => tree.copy())
  return { ...open, trees, free: freeOf(trees), laid: [...open.laid] }
}

const freeOf = (trees: readonly CutTree[]): CutTree[] => trees.flatMap((tree) => tree.free())

function bestPlace(
  part: PartToCut,
  opened: readonly OpenBoard[],
  fit: Manner['fit'],
  rules: CuttingRules,
): Place | null {
  let best: Place | null = null
  for (let at = 0; at < opened.length; at++) {
    const { board, laid, free } = opened[at]!
    const spareNm = board.thicknessNm - part.thicknessNm - planedOff(board.thicknessNm, rules.planing)
    const started = laid.length > 0
    if (spareNm < 0 || (best !== null && isWorse(spareNm, started, best))) continue
    let least = best === null || isWorse(best.spareNm, best.started, { spareNm, started }) ? Infinity : best.loose
    for (let which = 0; which < free.length; which++) {
      const { lengthNm, widthNm } = free[which]!.region
      const overLength = lengthNm - part.lengthNm
      const overWidth = widthNm - part.widthNm
      if (overLength < 0 || overWidth < 0) continue
      const area = lengthNm * widthNm - part.lengthNm * part.widthNm
      const loose = fit === 'first' ? at : fit === 'short-side' ? Math.min(overLength, overWidth) : area
      if (loose >= least) continue
      least = loose
      best = { at, free: which, spareNm, started, loose }
    }
  }
  return best
}

interface Place {
  /** Which board, and which of its free pieces. */
  readonly at: number
  readonly free: number
  /** Thickness that is planed away for nothing. */
  readonly spareNm: number
  readonly started: boolean
  /** How much room it leaves there; within one thickness and of started boards the closest fit is taken. */
  readonly loose: number
}

/** Thin boards before thick ones, started ones before whole ones. */
const isWorse = (spareNm: number, started: boolean, than: Pick<Place, 'spareNm' | 'started'>): boolean =>
  spareNm !== than.spareNm ? spareNm > than.spareNm : than.started && !started

function lay(
  part: PartToCut,
  open: OpenBoard,
  tree: CutTree,
  split: Manner['split'],
  rules: CuttingRules,
  random: RandomStream,
): void {
  const { lengthNm, widthNm } = tree.region
  const longer = lengthNm - part.lengthNm > widthNm - part.widthNm ? 'crosscut' : 'rip'
  const mixed = split === 'mixed' && random.fraction() < 0.5 ? 'crosscut' : 'rip'
  const way = split === 'longer-rest' ? longer : split === 'mixed' ? mixed : split
  tree.lay(part.id, part.lengthNm, part.widthNm, way, rules.kerfNm)
  open.free = freeOf(open.trees)
  open.laid.push(part)
}

function sizeToBuy(part: PartToCut, shop: WoodToCutFrom, buyLarge: number): YardSize | null {
  const { rules } = shop
  const trim = 2 * (rules.squareEndNm > 0 ? Math.max(rules.squareEndNm, rules.kerfNm) : 0)
  const holding = shop.yard.filter(
    ({ thicknessNm, widthNm, lengthNm }) =>
      thicknessNm >= part.thicknessNm + planedOff(thicknessNm, rules.planing) &&
      widthNm >= part.widthNm &&
      lengthNm - trim >= part.lengthNm,
  )
  const thinnest = Math.min(...holding.map((size) => size.thicknessNm))
  const thin = holding
    .filter((size) => size.thicknessNm === thinnest)
    .toSorted((a, b) => a.lengthNm * a.widthNm - b.lengthNm * b.widthNm)
  return thin[Math.round(buyLarge * (thin.length - 1))] ?? null
}

export interface Cost {
  /** Area of parts without a board. */
  readonly unplaced: number
  /** Volume of the boards to buy. */
  readonly bought: number
  /** Wood used up, as volume; what is bought counts twice. */
  readonly used: number
  /** `used`, less what full boards are better than half-empty ones: what a search goes by. */
  readonly promise: number
}

/** What a layout takes. */
export function costOf({ opened, unplaced }: Layout, rules: CuttingRules): Cost {
  let bought = 0
  let used = 0
  let fullness = 0
  for (const one of opened) {
    if (one.laid.length === 0) continue
    const { thicknessNm, widthNm, lengthNm } = one.board
    const weight = (one.bought ? 2 : 1) * thicknessNm
    if (one.bought) bought += thicknessNm * widthNm * lengthNm
    let kept = 0
    for (const { region } of one.free) if (isUsable(region, rules)) kept += region.lengthNm * region.widthNm
    used += weight * (widthNm * lengthNm - OFFCUT_WORTH * kept)
    const filled = one.laid.reduce((sum, part) => sum + part.lengthNm * part.widthNm, 0)
    fullness += (weight * filled ** 2) / (widthNm * lengthNm)
  }
  return {
    unplaced: unplaced.reduce((sum, part) => sum + part.lengthNm * part.widthNm, 0),
    bought,
    used,
    promise: used - fullness,
  }
}

/** A usable offcut is worth less than the same wood in a whole board; common practice, no source. */
const OFFCUT_WORTH = 0.8

export const isUsable = (region: Region, rules: CuttingRules): boolean =>
  region.lengthNm >= rules.usableLengthNm && region.widthNm >= rules.usableWidthNm
