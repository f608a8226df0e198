import { inches, millimetres } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { breadboardStep, fixingSlot, type FixingSlot } from '../../wood/fixing-slots.ts'
import type { Cut } from '../../wood/movement.ts'
import type { Fact, Fitting } from '../construction.ts'
import { coefficientOf, type WoodShares } from '../design/field-change.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { EdgeGrainSpec } from './edge-grain-spec.ts'

/** Pins of breadboard ends: dowel as it is sold, the outer ones this far in from the edges; common practice, no source. */
const pinOf = ({ units }: Pick<ShopFacts, 'units'>): number => (units === 'inch' ? inches(1 / 4) : millimetres(6))
const PIN_FROM_EDGE_NM = inches(1)

/** Three pegs at each end: tight at the middle, in slots towards the edges. */
export const breadboardFittings = (
  { breadboard }: EdgeGrainSpec,
  boards: number,
  facts: Pick<ShopFacts, 'units'>,
): Fitting[] =>
  breadboard === null
    ? []
    : [
        {
          name: `Pegs, ${writeLength(pinOf(facts), facts.units)} dowel`,
          quantity: 6 * boards,
          note: 'A little longer than the ends are thick; trimmed flush.',
        },
      ]

const outerSlot = (widthNm: number, staves: WoodShares, facts: ShopFacts, cut: Cut): FixingSlot =>
  fixingSlot(
    Math.max(0, Math.round(widthNm / 2) - PIN_FROM_EDGE_NM),
    pinOf(facts),
    coefficientOf(staves, facts, cut).coefficient,
    facts.moisture,
    'what-moves',
  )

/** The pegs of one end and the slots of the outer ones as they lie across it, from edge to edge. */
export function pegsAcross(
  widthNm: number,
  staves: WoodShares,
  facts: ShopFacts,
  cut: Cut,
): readonly { readonly fromNm: number; readonly toNm: number; readonly name: 'Peg' | 'Slot for a peg' }[] {
  const pinNm = pinOf(facts)
  const middle = Math.round((widthNm - pinNm) / 2)
  const peg = { fromNm: middle, toNm: middle + pinNm, name: 'Peg' } as const
  const { outwardNm, inwardNm } = outerSlot(widthNm, staves, facts, cut)
  const left = PIN_FROM_EDGE_NM - Math.round(pinNm / 2)
  const slot = { fromNm: Math.max(0, left - outwardNm), toNm: left + pinNm + inwardNm }
  if (slot.toNm >= peg.fromNm) return [peg]
  return [
    { ...slot, name: 'Slot for a peg' },
    peg,
    { fromNm: widthNm - slot.toNm, toNm: widthNm - slot.fromNm, name: 'Slot for a peg' },
  ]
}

/** Slots for the outer pins, and how far slab and ends stand apart through the year. */
export function breadboardFacts(widthNm: number, staves: WoodShares, facts: ShopFacts, cut: Cut): Fact[] {
  const { coefficient } = coefficientOf(staves, facts, cut)
  const slot = outerSlot(widthNm, staves, facts, cut)
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
      `in the slab’s tongue, which moves while the pin stays: pin ${say(pinOf(facts))}, ${say(slot.outwardNm)} outward of it for shrinking and ${say(slot.inwardNm)} inward for growing; glued and pinned tight at the middle`,
    ),
    fact(
      'stands-out',
      'Slab sticks out past its ends, damp season',
      step.outNm,
      `at each edge, of a slab ${say(widthNm)} wide`,
    ),
    fact(
      'stands-back',
      'Slab sits short of its ends, dry season',
      step.backNm,
      `at each edge, of a slab ${say(widthNm)} wide`,
    ),
  ]
}
