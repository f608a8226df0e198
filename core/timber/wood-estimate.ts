import type { WoodPrice, Yard } from '../almanac/almanac.ts'
import { boardFeetOf, withWaste } from '../wood/board-measure.ts'
import type { Part } from '../constructions/construction.ts'
import { sum } from '../money/exact.ts'
import type { Planing } from '../wood/rough-thickness.ts'
import { timberTally } from './timber-tally.ts'
import { wasteOf, type WasteFacts } from './waste.ts'
import { woodCost } from './wood-cost.ts'

/** What one wood of an order comes to before any board is chosen. */
export interface WoodEstimate {
  /** Almanac wood id. */
  readonly wood: string
  /** Of the parts as cut, out of the yard's thicknesses, cubic nanometres; without waste. */
  readonly netNm3: bigint
  /** What has to be bought, with the waste of this wood and its thicknesses. */
  readonly boughtFeet: number
  /** With the waste, minor units; null: no price yet. */
  readonly minor: number | null
}

/**
 * What the parts of an order take of each wood and cost, whatever boards they will come from: for a price that has to be said before
 * anything is bought.
 * @param planing what is taken off both faces together
 */
export function woodEstimate(
  parts: readonly Part[],
  planing: Planing,
  facts: { readonly yard: Yard; readonly woodPrices: Readonly<Record<string, WoodPrice>> } & WasteFacts,
): readonly WoodEstimate[] {
  const tally = timberTally(
    parts.map(({ wood, quantity, rough }) => ({ wood, quantity, ...rough })),
    planing,
    facts.yard,
  )
  return [...Map.groupBy(tally, ({ wood }) => wood)].map(([wood, lines]) => {
    const netNm3 = lines.reduce((sum, line) => sum + line.netNm3, 0n)
    const price = facts.woodPrices[wood]
    const byWaste = Map.groupBy(lines, ({ roughNm }) => wasteOf(facts, wood, roughNm))
    const shares = [...byWaste].map(([waste, own]) => ({
      waste,
      nm3: own.reduce((sum, line) => sum + line.netNm3, 0n),
    }))
    return {
      wood,
      netNm3,
      boughtFeet: sum(shares.map(({ waste, nm3 }) => withWaste(boardFeetOf(nm3), waste))),
      minor: price === undefined ? null : sum(shares.map(({ waste, nm3 }) => woodCost(nm3, price, waste))),
    }
  })
}
