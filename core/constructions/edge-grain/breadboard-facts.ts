import { writeLength } from '../../lengths/write-length.ts'
import { breadboardStep, fixingSlot, type FixingSlot } from '../../wood/fixing-slots.ts'
import type { GrainCut } from '../../wood/movement.ts'
import type { Fact, Fitting } from '../construction.ts'
import { coefficientOf, type WoodShares } from '../design/field-change.ts'
import { usualSize } from '../design/usual-size.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { EdgeGrainSpec } from './edge-grain-spec.ts'

/** Dowel as it is sold, and the shank of a common screw (no. 8); the outer ones so far in from the edges. Common practice, no source. */
const pegOf = (facts: Pick<ShopFacts, 'units'>): number => usualSize(facts, 1 / 4, 6)
const screwOf = (facts: Pick<ShopFacts, 'units'>): number => usualSize(facts, 3 / 16, 4.5)
const pinFromEdge = (facts: Pick<ShopFacts, 'units'>): number => usualSize(facts, 1, 25)

/** Three at each end: tight at the middle, in slots towards the edges. Nothing is bought for a dovetail or glue alone. */
export function breadboardFittings(
  { breadboard }: EdgeGrainSpec,
  boards: number,
  facts: Pick<ShopFacts, 'units'>,
): Fitting[] {
  const quantity = 6 * boards
  switch (breadboard === null ? 'glue' : (breadboard.fastening ?? 'pegs')) {
    case 'pegs':
      return [
        {
          name: `Pegs, ${writeLength(pegOf(facts), facts.units)} dowel`,
          quantity,
          note: 'A little longer than the ends are thick; trimmed flush.',
        },
      ]
    case 'screws':
      return [
        {
          name: 'Screws for the ends',
          quantity,
          note: `${facts.units === 'inch' ? 'No. 8, an inch' : '4.5 mm, 25 mm'} longer than what the counterbore leaves of an end.`,
        },
        { name: 'Plugs over the screws', quantity, note: 'Cut from the wood of the ends, trimmed flush.' },
      ]
    case 'dovetail':
    case 'glue':
      return []
  }
}

/** The slot of an outer peg or screw; null where nothing is slotted. */
function outerSlot(
  { widthNm, breadboard }: EdgeGrainSpec,
  staves: WoodShares,
  facts: ShopFacts,
  cut: GrainCut,
): (FixingSlot & { readonly fixingNm: number; readonly by: 'pegs' | 'screws' }) | null {
  const by = breadboard?.fastening ?? 'pegs'
  if (by === 'dovetail' || by === 'glue') return null
  const fixingNm = by === 'pegs' ? pegOf(facts) : screwOf(facts)
  const slot = fixingSlot(
    Math.max(0, Math.round(widthNm / 2) - pinFromEdge(facts)),
    fixingNm,
    coefficientOf(staves, facts, cut).coefficient,
    facts.moisture,
    // A peg stays in the end; a screw stands in the slab and goes with it.
    by === 'pegs' ? 'what-moves' : 'what-stays',
  )
  return { ...slot, fixingNm, by }
}

/** Wider than this a slab pulls at ends that only glue holds; common practice, no source. */
const widestGlued = (facts: Pick<ShopFacts, 'units'>): number => usualSize(facts, 10, 250)

/** What speaks against a way to hold the ends. */
export function breadboardWarnings({ widthNm, breadboard }: EdgeGrainSpec, facts: Pick<ShopFacts, 'units'>): string[] {
  if (breadboard?.fastening !== 'glue' || widthNm <= widestGlued(facts)) return []
  return [
    `Glue at the middle alone holds ends up to about ${writeLength(widestGlued(facts), facts.units)}: take pegs, screws or a sliding dovetail.`,
  ]
}

/** The pegs or screws of one end and the slots of the outer ones as they lie across it, from edge to edge. */
export function pegsAcross(
  spec: EdgeGrainSpec,
  staves: WoodShares,
  facts: ShopFacts,
  cut: GrainCut,
): readonly { readonly fromNm: number; readonly toNm: number; readonly name: string }[] {
  const outer = outerSlot(spec, staves, facts, cut)
  if (outer === null) return []
  const { outwardNm, inwardNm, fixingNm, by } = outer
  const { widthNm } = spec
  const middle = Math.round((widthNm - fixingNm) / 2)
  const [one, slotName] = by === 'pegs' ? ['Peg', 'Slot for a peg'] : ['Screw', 'Slot for a screw']
  const peg = { fromNm: middle, toNm: middle + fixingNm, name: one }
  const left = pinFromEdge(facts) - Math.round(fixingNm / 2)
  const slot = { fromNm: Math.max(0, left - outwardNm), toNm: left + fixingNm + inwardNm }
  if (slot.toNm >= peg.fromNm) return [peg]
  return [
    { ...slot, name: slotName },
    peg,
    { fromNm: widthNm - slot.toNm, toNm: widthNm - slot.fromNm, name: slotName },
  ]
}

/** Slots for the outer pins, and how far slab and ends stand apart through the year. */
export function breadboardFacts(spec: EdgeGrainSpec, staves: WoodShares, facts: ShopFacts, cut: GrainCut): Fact[] {
  const { widthNm } = spec
  const { coefficient } = coefficientOf(staves, facts, cut)
  const slot = outerSlot(spec, staves, facts, cut)
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
    ...(slot === null
      ? []
      : [
          fact(
            'slot',
            slot.by === 'pegs' ? 'Slots for the outer pegs' : 'Slots for the outer screws',
            slot.lengthNm,
            slot.by === 'pegs'
              ? `in the slab’s tongue, which moves while the peg stays: peg ${say(slot.fixingNm)}, ${say(slot.outwardNm)} outward of it for shrinking and ${say(slot.inwardNm)} inward for growing; glued and pegged tight at the middle`
              : `in the end, which stays while the screw goes with the slab: shank ${say(slot.fixingNm)}, ${say(slot.outwardNm)} outward of it for growing and ${say(slot.inwardNm)} inward for shrinking; tight at the middle`,
          ),
        ]),
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
