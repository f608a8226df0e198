import type { WoodPrice } from '../almanac/almanac.ts'
import { sum } from '../money/exact.ts'
import { sharedOut } from '../money/shared-out.ts'
import { NM3_PER_BOARD_FOOT, NM3_PER_CUBIC_METRE, volumeNm3 } from '../wood/board-measure.ts'
import type { BoardOnHand, BoardPlan, CuttingPlan, Region } from './cutting-model.ts'

/**
 * What so much rough wood costs, in whole minor units, exact halves upwards. Reckoned in whole numbers throughout: a cent is never lost
 * to a fraction that a computer cannot hold.
 * @param waste share of what is bought that is lost, 0 <= waste < 1, to a millionth: so much more is bought
 */
export function woodCost(netNm3: bigint, { minor, per }: WoodPrice, waste: number): number {
  const measure = per === 'board-foot' ? NM3_PER_BOARD_FOOT : NM3_PER_CUBIC_METRE
  const above = netNm3 * BigInt(minor) * MILLION
  const below = measure * kept(waste)
  return Number((2n * above + below) / (2n * below))
}

const MILLION = 1_000_000n

/** Millionths of what is bought that are left. */
const kept = (waste: number): bigint => MILLION - BigInt(Math.round(waste * Number(MILLION)))

/** An offcut is worth its share of the board as seen from above, whole minor units. */
export const offcutCost = (
  boardMinor: number,
  board: Pick<BoardOnHand, 'lengthNm' | 'widthNm'>,
  offcut: Pick<Region, 'lengthNm' | 'widthNm'>,
): number => Math.round(boardMinor * (offcut.lengthNm / board.lengthNm) * (offcut.widthNm / board.widthNm))

/** What is known of prices. */
export interface WoodPrices {
  /** What a board on hand cost; null: not known. */
  readonly ofBoard: (id: string) => number | null
  /** What the yard asks for a wood; null: no price yet. */
  readonly ofWood: (wood: string) => WoodPrice | null
  /** Share that is lost of a wood bought at a rough thickness. */
  readonly wasteOf: (wood: string, thicknessNm: number) => number
}

/** What the parts of a plan cost. */
export interface PartsCost {
  /** By the ids of the parts, minor units: out of boards on hand, and out of those to buy. */
  readonly parts: ReadonlyMap<string, { readonly onHand: number; readonly toBuy: number }>
  /** Boards to buy, by wood: what all of them cost; without an entry: no price yet. */
  readonly toBuy: ReadonlyMap<string, number>
  /** Parts of boards without any price. */
  readonly unpriced: ReadonlySet<string>
}

/**
 * What each part of a cutting plan costs. A board on hand counts with its own price, without one as rough wood at the yard's; boards to
 * buy count with the waste. What usable offcuts are worth stays with them; the rest, kerfs and ends included, is shared out to the parts
 * of the board by their area, to the last minor unit.
 */
export function costOfParts({ boards }: CuttingPlan, prices: WoodPrices): PartsCost {
  const parts = new Map<string, { onHand: number; toBuy: number }>()
  const unpriced = new Set<string>()
  const toBuy = new Map<string, number>()
  const take = (plan: BoardPlan, minor: number | null): void => {
    if (minor === null) {
      for (const { part } of plan.parts) unpriced.add(part)
      return
    }
    const kept = plan.offcuts.reduce((sum, offcut) => sum + offcutCost(minor, plan.board, offcut), 0)
    const shares = sharedOut(
      Math.max(0, minor - kept),
      plan.parts.map(({ lengthNm, widthNm }) => BigInt(lengthNm) * BigInt(widthNm)),
    )
    for (const [index, { part }] of plan.parts.entries()) {
      const cost = parts.get(part) ?? { onHand: 0, toBuy: 0 }
      cost[plan.bought ? 'toBuy' : 'onHand'] += shares[index] ?? 0
      parts.set(part, cost)
    }
  }
  for (const plan of boards.filter(({ bought }) => !bought)) {
    const price = prices.ofWood(plan.board.wood)
    take(plan, prices.ofBoard(plan.board.id) ?? (price && woodCost(volumeOf(plan.board), price, 0)))
  }
  for (const [wood, plans] of Map.groupBy(
    boards.filter(({ bought }) => bought),
    ({ board }) => board.wood,
  )) {
    const price = prices.ofWood(wood)
    const weights = plans.map(
      ({ board }) => (volumeOf(board) * MILLION) / kept(prices.wasteOf(wood, board.thicknessNm)),
    )
    if (price === null) {
      for (const plan of plans) take(plan, null)
      continue
    }
    // Boards of one waste are paid together, so that their sum is rounded once.
    const byWaste = Map.groupBy(plans, ({ board }) => prices.wasteOf(wood, board.thicknessNm))
    const all = sum(
      [...byWaste].map(([waste, own]) =>
        woodCost(
          own.reduce((volume, { board }) => volume + volumeOf(board), 0n),
          price,
          waste,
        ),
      ),
    )
    toBuy.set(wood, all)
    for (const [index, share] of sharedOut(all, weights).entries()) {
      const plan = plans[index]
      if (plan !== undefined) take(plan, share)
    }
  }
  return { parts, toBuy, unpriced }
}

const volumeOf = ({ thicknessNm, widthNm, lengthNm }: BoardOnHand): bigint => volumeNm3(thicknessNm, widthNm, lengthNm)
