import { LENGTHWISE_COEFFICIENT, type GrainCut, type MovementCoefficient } from '../../wood/movement.ts'
import { seasonalChange, sharedCoefficient, type SeasonalChange } from '../../wood/seasonal-change.ts'
import { nameOf } from './products.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** How a field changes from the day it is built through the seasons of the house it goes to. */
export interface FieldThroughSeasons {
  readonly across: SeasonalChange
  readonly along: SeasonalChange
  /** Woods whose movement nobody has published; the others stand in for them. */
  readonly unknownWoods: readonly string[]
  readonly coefficient: MovementCoefficient
  readonly source: string
}

/** Woods side by side across one direction, each with how much of it there is. */
export type WoodShares = readonly { readonly wood: string; readonly size: number }[]

/** A field standing on its grain moves across the grain in both directions. */
export function endGrainChange(
  acrossNm: number,
  alongNm: number,
  cells: WoodShares,
  facts: ShopFacts,
): FieldThroughSeasons {
  const { coefficient, unknownWoods } = coefficientOf(cells, facts)
  return {
    across: seasonalChange(acrossNm, coefficient, facts.moisture),
    along: seasonalChange(alongNm, coefficient, facts.moisture),
    unknownWoods,
    coefficient,
    source: coefficient.source,
  }
}

/** A field of staves moves across them and hardly along them. */
export function stavesChange(
  acrossNm: number,
  alongNm: number,
  staves: WoodShares,
  facts: ShopFacts,
  cut: GrainCut = 'unknown',
): FieldThroughSeasons {
  const { coefficient, unknownWoods } = coefficientOf(staves, facts, cut)
  return {
    across: seasonalChange(acrossNm, coefficient, facts.moisture),
    along: seasonalChange(alongNm, { ...LENGTHWISE_COEFFICIENT, source: coefficient.source }, facts.moisture),
    unknownWoods,
    coefficient,
    source: coefficient.source,
  }
}

/** The shared coefficient of several woods; where none of them is published, a middling hardwood stands in. */
export function coefficientOf(
  shares: WoodShares,
  facts: ShopFacts,
  cut: GrainCut = 'unknown',
): { readonly coefficient: MovementCoefficient; readonly unknownWoods: readonly string[] } {
  const known: { size: number; coefficient: MovementCoefficient }[] = []
  const unknownWoods = new Set<string>()
  for (const { wood, size } of shares) {
    const coefficient = facts.woods.find((one) => one.id === wood)?.across?.[cut] ?? null
    if (coefficient === null) unknownWoods.add(nameOf(facts.woods, wood))
    else known.push({ size, coefficient })
  }
  return { coefficient: known.length === 0 ? MIDDLING : sharedCoefficient(known), unknownWoods: [...unknownWoods] }
}

/** What is said of woods without a figure; no sentence where all have one. */
export const unknownMovement = ({ unknownWoods }: Pick<FieldThroughSeasons, 'unknownWoods'>): string[] =>
  unknownWoods.map(
    (wood) =>
      `No movement figure for ${wood} is published: another wood's stands in for it. Measure a sample, or leave more room.`,
  )

/** Between the radial and the tangential value of a middling hardwood. */
const MIDDLING: MovementCoefficient = {
  low: 0.0016,
  planned: 0.003,
  high: 0.0037,
  source: 'from memory — a middling hardwood',
}
