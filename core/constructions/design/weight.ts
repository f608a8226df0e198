import { NM_PER_METRE } from '../../lengths/length.ts'
import { WEIGHT_SPREAD } from '../../wood/weight.ts'
import type { Fact, Part } from '../construction.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** Kilograms of finished parts; null where the weight of one of the woods is not published. */
export function weightOf(parts: readonly Part[], facts: ShopFacts): number | null {
  let kg = 0
  for (const { wood, quantity, finished, solidShare = 1 } of parts) {
    const density = facts.woods.find((one) => one.id === wood)?.kgPerCubicMetre ?? null
    if (density === null) return null
    const cubicMetres =
      (finished.lengthNm / NM_PER_METRE) * (finished.widthNm / NM_PER_METRE) * (finished.thicknessNm / NM_PER_METRE)
    kg += quantity * cubicMetres * solidShare * density
  }
  return kg
}

/** What one piece weighs, to two digits because boards of one species vary widely; no fact where it is not known. */
export function weightFacts(parts: readonly Part[], pieces: number, facts: ShopFacts): Fact[] {
  const all = weightOf(parts, facts)
  if (all === null) return []
  const kg = all / pieces
  return [
    {
      key: 'weight',
      label: 'Weighs about',
      value: {
        kind: 'text',
        text: facts.units === 'inch' ? `${twoDigits(kg / KG_PER_POUND)} lb` : `${twoDigits(kg)} kg`,
      },
      rule: `finished parts at 8% moisture; boards vary by ${Math.round(WEIGHT_SPREAD * 100)}% either way`,
      source: 'Wood Handbook, FPL-GTR-282 (2021), Eqs. 4-11 to 4-14',
    },
  ]
}

/** @source international yard and pound agreement of 1959 */
const KG_PER_POUND = 0.45359237

const twoDigits = (value: number): string => String(Number(value.toPrecision(2)))
