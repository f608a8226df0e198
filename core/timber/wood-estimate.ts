import type { WoodPrice, Yard } from '../almanac/almanac.ts'
import type { Part } from '../constructions/construction.ts'
import type { Planing } from '../wood/rough-thickness.ts'
import { timberTally } from './timber-tally.ts'
import { woodCost } from './wood-cost.ts'

/** What one wood of an order comes to before any board is chosen. */
export interface WoodEstimate {
  /** Almanac wood id. */
  readonly wood: string
  /** Of the parts as cut, out of the yard's thicknesses, cubic nanometres; without waste. */
  readonly netNm3: bigint
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
  yard: Yard,
  prices: Readonly<Record<string, WoodPrice>>,
): readonly WoodEstimate[] {
  const tally = timberTally(
    parts.map(({ wood, quantity, rough }) => ({ wood, quantity, ...rough })),
    planing,
    yard,
  )
  return [...Map.groupBy(tally, ({ wood }) => wood)].map(([wood, lines]) => {
    const netNm3 = lines.reduce((sum, line) => sum + line.netNm3, 0n)
    const price = prices[wood]
    return { wood, netNm3, minor: price === undefined ? null : woodCost(netNm3, price, yard.waste) }
  })
}
