/** How a carrier reckons: the maker types it, because carriers differ and change. */
export interface CarrierRule {
  /** Volume over this is the dimensional weight: 139 or 166 in cubic inches a pound, 5,000 in cubic centimetres a kilogram. */
  readonly divisor: number
  /** Every started whole of a side counts, or the nearest. */
  readonly sides: 'up' | 'nearest'
  /** Whole pounds or half kilograms. */
  readonly weightStep: number
  readonly weights: 'up' | 'nearest'
}

export interface ParcelWeight {
  /** Outer sides as the carrier counts them, in the units of the rule, longest first. */
  readonly sides: readonly [number, number, number]
  readonly dimensional: number
  readonly billed: number
}

/**
 * What a carrier bills: the greater of weight and dimensional weight.
 * @param piece its three sides, in whole units of the rule's system (inches or centimetres)
 * @param cushion on every side
 * @param scale what it weighs packed
 * @source L x W x H / divisor, on the pages of UPS and DHL; tests repeat their examples
 */
export function parcelWeight(
  piece: readonly [number, number, number],
  cushion: number,
  scale: number,
  rule: CarrierRule,
): ParcelWeight {
  const round = rule.sides === 'up' ? Math.ceil : Math.round
  const [a, b, c] = piece.map((side) => round(side + 2 * cushion)).toSorted((x, y) => y - x) as [number, number, number]
  const toStep = (weight: number, how: CarrierRule['weights']): number =>
    (how === 'up' ? Math.ceil(weight / rule.weightStep) : Math.round(weight / rule.weightStep)) * rule.weightStep
  const dimensional = toStep((a * b * c) / rule.divisor, rule.weights)
  return { sides: [a, b, c], dimensional, billed: Math.max(dimensional, toStep(scale, 'up')) }
}
