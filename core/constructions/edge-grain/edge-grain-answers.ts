import type { GlueAndFinishes } from '../design/finish-fields.ts'
import { unlikeFacesWarning } from '../design/finish-of-part.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { breadboardFacts, breadboardWarnings } from './breadboard-facts.ts'
import type { Fact, Part } from '../construction.ts'
import {
  nutOilWarnings,
  onFoodWarnings,
  shallowForGroove,
  widerThanJointer,
  widerThanSander,
} from '../design/design-warnings.ts'
import type { EdgeGrainSpec } from './edge-grain-spec.ts'
import type { EdgeGrainGeometry } from './edge-grain-geometry.ts'
import { cutAcross } from '../design/cut-field.ts'
import { stavesChange, unknownMovement } from '../design/field-change.ts'
import { movementFacts } from '../design/movement-facts.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { staveParts } from '../design/staves.ts'

const PRACTICE = 'common practice, no source'

/** Staves of each wood, then the breadboard ends. */
export function edgeGrainParts(
  spec: EdgeGrainSpec,
  geometry: EdgeGrainGeometry,
  count: number,
  facts: ShopFacts,
): Part[] {
  const staves = staveParts('Stave', geometry.panel, geometry, count, facts)
  const say = (nm: number): string => writeLength(nm, facts.units)
  if (spec.breadboard === null) return staves
  const { wood, widthNm } = spec.breadboard
  // The tongues fill the grooves of the ends.
  const solidShare = (spec.lengthNm - 2 * widthNm) / geometry.panel.lengthNm
  const end: Part = {
    name: 'Breadboard end',
    wood,
    quantity: 2 * count,
    rough: { lengthNm: geometry.endRoughNm, widthNm, thicknessNm: geometry.thicknessRoughNm },
    finished: { lengthNm: spec.widthNm, widthNm, thicknessNm: spec.thicknessNm },
    note: 'Trimmed flush after it is fixed.',
    why: `Board ${say(spec.widthNm)} across and ${say(facts.allowances.squareEndNm)} at each end to trim flush, no shorter than the planer takes; width as it is; as thick as the slab before it is flattened.`,
    milledIn: 'mill-ends',
  }
  return [...staves.map((stave) => ({ ...stave, solidShare })), end]
}

/** The sizes that follow from the spec. */
export function edgeGrainFacts(spec: EdgeGrainSpec, geometry: EdgeGrainGeometry, facts: ShopFacts): Fact[] {
  const { allowances, units } = facts
  const say = (nm: number): string => writeLength(nm, units)
  const length = (key: string, label: string, nm: number, rule: string): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule,
    source: PRACTICE,
  })
  const { staves } = geometry
  const { breadboard } = spec
  const shares = staves.map(({ wood, seenNm }) => ({ wood, size: seenNm }))
  const cut = cutAcross(spec.cut, spec.lay)
  const change = stavesChange(spec.widthNm, spec.lengthNm, shares, facts, cut)
  return [
    {
      key: 'staves',
      label: 'Staves',
      value: { kind: 'count', count: staves.length },
      rule: `${say(spec.widthNm)} in equal staves of at most ${say(spec.staveNm)}`,
      source: PRACTICE,
    },
    length(
      'stave',
      'Staves cut to',
      geometry.staveRoughNm,
      `${say(staves[0]?.seenNm ?? 0)} seen, its share of ${say(allowances.trimEdgeNm)} trimmed off each edge, and ${say(allowances.jointEdgeNm)} for jointing`,
    ),
    length(
      'thickness',
      'Planed to',
      geometry.thicknessRoughNm,
      `board ${say(spec.thicknessNm)} and ${say(allowances.flattenPanelNm)} that flattening takes off both faces together`,
    ),
    length(
      'centre',
      'Staves cut off at',
      geometry.lengthRoughNm,
      breadboard === null
        ? `length ${say(spec.lengthNm)} and ${say(allowances.squareEndNm)} to square each end; not under ${say(allowances.shortestPlanedNm)} for the planer`
        : `length ${say(spec.lengthNm)} without the ends (${say(breadboard.widthNm)} each), with two tongues of ${say(breadboard.tongueNm)}, and ${say(allowances.squareEndNm)} to square each end`,
    ),
    ...movementFacts('Board', change, ['across'], facts),
    ...(breadboard === null
      ? []
      : [
          length(
            'end',
            'Breadboard ends cut off at',
            geometry.endRoughNm,
            `width ${say(spec.widthNm)} and ${say(allowances.squareEndNm)} at each end to trim flush`,
          ),
          ...breadboardFacts(spec, shares, facts, cut),
        ]),
  ]
}

const woodsSeen = ({ woods, breadboard, inlay }: EdgeGrainSpec): readonly string[] => [
  ...woods,
  ...(breadboard === null ? [] : [breadboard.wood]),
  ...(inlay === undefined ? [] : [inlay.wood]),
]

export function edgeGrainWarnings(
  spec: EdgeGrainSpec,
  geometry: EdgeGrainGeometry,
  facts: ShopFacts,
  products: GlueAndFinishes,
): string[] {
  const shares = geometry.staves.map(({ wood, seenNm }) => ({ wood, size: seenNm }))
  const warnings = [
    ...breadboardWarnings(spec, facts),
    ...unknownMovement(stavesChange(spec.widthNm, spec.lengthNm, shares, facts, cutAcross(spec.cut, spec.lay))),
    ...(spec.food ? onFoodWarnings(products, { longGrain: woodsSeen(spec) }, facts) : []),
    ...nutOilWarnings(products.finish, products.part),
    ...unlikeFacesWarning(products.finish, products.part),
    ...(spec.juiceGroove ? shallowForGroove(spec.thicknessNm, facts) : []),
    ...widerThanSander('The panel', spec.widthNm, facts),
    ...widerThanJointer('A stave', spec.lay === 'face-up' ? geometry.staveRoughNm : geometry.thicknessRoughNm, facts),
  ]
  if (spec.breadboard !== null && spec.breadboard.widthNm > spec.lengthNm / 4) {
    warnings.push(
      'The breadboard ends are more than a quarter of the length each: with so little slab between them they hardly keep it flat.',
    )
  }
  return warnings
}
