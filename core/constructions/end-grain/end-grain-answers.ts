import type { GlueAndFinishes } from '../design/finish-fields.ts'
import { unlikeFacesWarning } from '../design/finish-of-part.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
import type { Fact, Part } from '../construction.ts'
import {
  nutOilWarnings,
  onFoodWarnings,
  shallowForGroove,
  thickerThanBlade,
  widerThanJointer,
  widerThanSander,
} from '../design/design-warnings.ts'
import type { EndGrainSpec } from './end-grain-spec.ts'
import { framesWithSizes, type EndGrainGeometry, type Panel } from './end-grain-geometry.ts'
import { framesOf, otherFrameFacts } from '../design/frame-set.ts'
import { frameParts } from '../design/frame-parts.ts'
import { frameFacts } from '../design/mitred-frame.ts'
import { movementFacts } from '../design/movement-facts.ts'
import { nameOf } from '../design/products.ts'
import type { ShopFacts } from '../shop-facts.ts'

const PRACTICE = 'common practice, no source'

/** Strips of each wood and panel length, then the frame. */
export function endGrainParts(spec: EndGrainSpec, geometry: EndGrainGeometry, count: number, facts: ShopFacts): Part[] {
  const strips = new Map<string, Part>()
  for (const panel of geometry.panels) {
    for (const [index, wood] of panel.kind.strips.entries()) {
      const isOuter = index === 0 || index === panel.kind.strips.length - 1
      const key = `${wood} ${panel.lengthNm} ${panel.slices} ${isOuter}`
      const known = strips.get(key) ?? { ...stripOf(wood, isOuter, spec, geometry, panel, facts), quantity: 0 }
      strips.set(key, { ...known, quantity: known.quantity + 1 })
    }
  }
  const frames = framesWithSizes(spec, geometry).flatMap(([frame, sizes]) =>
    frameParts(frame, sizes, spec.thicknessNm, count, facts),
  )
  return [...strips.values(), ...frames]
}

function stripOf(
  wood: string,
  isOuter: boolean,
  spec: EndGrainSpec,
  geometry: EndGrainGeometry,
  panel: Panel,
  { allowances, units }: ShopFacts,
): Omit<Part, 'quantity'> {
  const say = (nm: number): string => writeLength(nm, units)
  return {
    name: isOuter ? 'Outer strip' : 'Strip',
    wood,
    rough: {
      lengthNm: panel.lengthNm,
      widthNm: isOuter ? geometry.outerStripWidthNm : geometry.stripWidthNm,
      thicknessNm: geometry.stripThicknessNm,
    },
    finished: { lengthNm: panel.slices * spec.thicknessNm, widthNm: spec.cellNm, thicknessNm: spec.cellNm },
    note: `Yields ${panel.slices} cells (total length).`,
    milledIn: 'mill',
    why: `${panel.slices} slices of ${say(geometry.sliceNm)}, each with a kerf of ${say(allowances.sawKerfNm)}, ${say(allowances.squareEndNm)} to square each end, ${say(allowances.holdLastPieceNm)} to hold the last piece; cell ${say(spec.cellNm)}, ${say(allowances.jointEdgeNm)} for jointing${isOuter ? ` and ${say(allowances.trimEdgeNm)} that trimming takes off the edge` : ''}; as thick as the cell, its share of trimming and ${say(allowances.flattenPanelNm)} that flattening the panel takes.`,
  }
}

/** The sizes that follow from the spec, in the order in which they are met in the shop. */
export function endGrainFacts(spec: EndGrainSpec, geometry: EndGrainGeometry, facts: ShopFacts): Fact[] {
  const { allowances, units } = facts
  const say = (nm: number): string => writeLength(nm, units)
  const { plan, panels, frame } = geometry
  const turned = plan.kinds.reduce((sum, kind) => sum + kind.turned, 0)
  const length = (key: string, label: string, nm: number, rule: string): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule,
    source: PRACTICE,
  })
  return [
    length('field-across', 'Field across', geometry.fieldAcrossNm, `${spec.cellsAcross} cells of ${say(spec.cellNm)}`),
    length('field-along', 'Field along', geometry.fieldAlongNm, `${spec.cellsAlong} cells of ${say(spec.cellNm)}`),
    length(
      'strip-width',
      'Strips ripped to',
      geometry.stripWidthNm,
      `cell ${say(spec.cellNm)} and ${say(allowances.jointEdgeNm)} for jointing; the two outer ones ${say(allowances.trimEdgeNm)} wider, for trimming`,
    ),
    length(
      'strip-thickness',
      'Strips planed to',
      geometry.stripThicknessNm,
      `cell ${say(spec.cellNm)}, its share of ${say(allowances.trimEdgeNm)} trimmed off each edge of the board, and ${say(allowances.flattenPanelNm)} that flattening the panel takes off both faces together`,
    ),
    {
      key: 'panels',
      label: 'Panels',
      value: {
        kind: 'text',
        text: panels.map((panel) => panelInWords(panel, geometry.panelWidthNm, facts)).join('; '),
      },
      rule: `length: slices x (${say(geometry.sliceNm)} and ${say(allowances.sawKerfNm)} kerf), ${say(allowances.squareEndNm)} to square each end, ${say(allowances.holdLastPieceNm)} to hold the last piece; none longer than ${say(allowances.longestPanelNm)} or shorter than ${say(allowances.shortestPlanedNm)}`,
      source: PRACTICE,
    },
    length(
      'slice',
      'Slices cut to',
      geometry.sliceNm,
      `board ${say(spec.thicknessNm)} and ${say(allowances.flattenBoardNm)} that flattening the board takes off both faces together`,
    ),
    {
      key: 'turned',
      label: 'Slices turned end for end',
      value: { kind: 'count', count: turned },
      rule: `each slice is a ${plan.slicesAre === 'rows' ? 'row across' : 'column along'} the board; per board`,
      source: PRACTICE,
    },
    ...movementFacts('Field', geometry.change, ['across', 'along'], facts),
    ...(frame === null || spec.frame === null ? [] : frameFacts(spec.frame, frame, facts)),
    ...otherFrameFacts(spec.otherFrames, geometry.otherFrames, facts),
  ]
}

function panelInWords({ kind, slices, lengthNm }: Panel, widthNm: number, facts: ShopFacts): string {
  const woods = [...new Set(kind.strips)].map(
    (wood) => `${kind.strips.filter((one) => one === wood).length} ${nameOf(facts.woods, wood).toLowerCase()}`,
  )
  return `${writeSizes([widthNm, lengthNm], facts.units)}, ${woods.join(' and ')} strips, ${slices} slices`
}

const woodsAround = ({ frame, otherFrames, inlay }: EndGrainSpec): readonly string[] => [
  ...(frame === null ? [] : framesOf(frame, otherFrames).map(({ wood }) => wood)),
  ...(inlay === undefined ? [] : [inlay.wood]),
]

/** What may go wrong with this design or needs asking. */
export function endGrainWarnings(
  spec: EndGrainSpec,
  geometry: EndGrainGeometry,
  facts: ShopFacts,
  products: GlueAndFinishes,
): string[] {
  const say = (nm: number): string => writeLength(nm, facts.units)
  const { frame } = spec
  return [
    ...(spec.food
      ? onFoodWarnings(products, { endGrain: geometry.pattern.flat(), longGrain: woodsAround(spec) }, facts)
      : []),
    ...nutOilWarnings(products.finish, products.part),
    ...unlikeFacesWarning(products.finish, products.part),
    ...(spec.juiceGroove ? shallowForGroove(spec.thicknessNm, facts) : []),
    ...widerThanSander('The field', Math.min(geometry.fieldAcrossNm, geometry.fieldAlongNm), facts),
    ...widerThanSander('The panel', geometry.panelWidthNm, facts),
    ...thickerThanBlade('The panel', geometry.stripThicknessNm - facts.allowances.flattenPanelNm, facts),
    ...widerThanJointer('Strips', geometry.stripWidthNm, facts),
    ...new Set([...(geometry.frame?.warnings ?? []), ...geometry.otherFrames.flatMap(({ warnings }) => warnings)]),
    ...(frame !== null && frame.tongueNm * 2 > spec.cellNm
      ? [`A tongue of ${say(frame.tongueNm)} is more than half a cell: the groove weakens the outer cells.`]
      : []),
    ...(geometry.plan.kinds.length > 2
      ? [`This pattern needs ${geometry.plan.kinds.length} kinds of panel, each glued up by itself.`]
      : []),
  ]
}
