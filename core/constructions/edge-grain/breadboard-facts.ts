import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { breadboardStep, fixingSlot } from '../../wood/fixing-slots.ts'
import type { Fact } from '../construction.ts'
import { coefficientOf, type WoodShares } from '../design/field-change.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** Pins of breadboard ends: a quarter-inch peg, the outer ones this far in from the edges; common practice, no source. */
const PIN_NM = inches(1 / 4)
const PIN_FROM_EDGE_NM = inches(1)

/** Slots for the outer pins, and how far slab and ends stand apart through the year. */
export function breadboardFacts(widthNm: number, staves: WoodShares, facts: ShopFacts): Fact[] {
  const { coefficient } = coefficientOf(staves, facts)
  const slot = fixingSlot(Math.max(0, Math.round(widthNm / 2) - PIN_FROM_EDGE_NM), PIN_NM, coefficient, facts.moisture)
  const step = breadboardStep(widthNm, coefficient, facts.moisture)
  const say = (nm: number): string => writeLength(nm, facts.units)
  const fact = (key: string, label: string, nm: number, rule: string): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule: `${rule}. ${facts.moisture.because}`,
    source: `derived from Wood Handbook Eq. 13-2; ${coefficient.source}`,
  })
  return [
    fact(
      'slot',
      'Slots for the outer pins',
      slot.lengthNm,
      `pin ${say(PIN_NM)}, ${say(slot.outwardNm)} outward and ${say(slot.inwardNm)} inward of it; glued and pinned tight at the middle`,
    ),
    fact(
      'stands-out',
      'Slab stands out beyond its ends, damp season',
      step.outNm,
      `at each edge, of a slab ${say(widthNm)} wide`,
    ),
    fact(
      'stands-back',
      'Slab stands back from its ends, dry season',
      step.backNm,
      `at each edge, of a slab ${say(widthNm)} wide`,
    ),
  ]
}
