import { surfaceSquareFeet } from '../design/board-feet.ts'
import type { Part } from '../construction.ts'
import { addFinishing, type Finishing, type FittingStep } from '../steps/finishing.ts'
import { addGlueUp, waitUntilCured } from '../steps/glue-ups.ts'
import { millSticks } from '../steps/mill-sticks.ts'
import { addStep, emptyNetwork, type Network } from '../steps/network.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import type { PartToFinish } from '../design/finish-of-part.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from '../shop-facts.ts'
import type { TableGeometry } from './small-table-geometry.ts'
import type { SmallTableSpec } from './small-table-spec.ts'
import { addSmoothing } from '../steps/smoothing.ts'
import { addStaves } from '../design/staves.ts'

const JOINTS = 8

/** What is put on; `base` null: the same as on the top. */
export interface TableFinish {
  readonly finish: FinishFacts
  readonly base: PartToFinish | null
  readonly topNm2: number
  readonly baseNm2: number
}

/** In front of the keys of the coats that go on the base alone. */
export const BASE = 'base-'

/** Top and base are made and finished apart, and meet when the finish may be handled. */
export function tableNetwork(
  spec: SmallTableSpec,
  geometry: TableGeometry,
  parts: readonly Part[],
  count: number,
  facts: ShopFacts,
  glue: GlueFacts,
  coated: TableFinish,
): Network {
  const network = emptyNetwork(facts, pieceFactsOf(parts, count, 'other', facts))
  const top = addTop(network, spec, geometry, parts.filter(isTop), count, glue)
  const base = addBase(
    network,
    spec,
    geometry,
    parts.filter((part) => !isTop(part)),
    count,
    glue,
  )
  const buttons = spec.fasteners === 'buttons' ? [addButtons(network, geometry, count)] : []
  const fitTop: FittingStep = {
    key: 'fit-top',
    operation: 'fit-top',
    name: 'Fix the top',
    note: 'Tight at the middle of the short aprons, free to slide everywhere else.',
    units: count,
    work: ['move'],
    alsoAfter: coated.base?.finish === null ? [...buttons, base] : buttons,
  }
  addFinishing(network, { ...coatsOn(coated, spec, count, top, base), packed: count, fittings: [fitTop] })
  return network
}

/** Both alike in one go, or each in its own way beside the other; a bare base waits for its top. */
function coatsOn(
  { finish, base: ofBase, topNm2, baseNm2 }: TableFinish,
  spec: SmallTableSpec,
  count: number,
  top: string,
  base: string,
): Omit<Finishing, 'fittings'> {
  const sides = { oneSideAtATime: spec.oneSideAtATime === true }
  const ofTop = { ...sides, finish, coats: spec.coats }
  if (ofBase === null)
    return { ...ofTop, pieces: 2 * count, after: [top, base], squareMetres: (topNm2 + baseNm2) * 1e-18 }
  const apart = { ...ofTop, part: 'top', pieces: count, after: [top], squareMetres: topNm2 * 1e-18 }
  if (ofBase.finish === null) return apart
  return {
    ...apart,
    beside: {
      ...{ ...sides, finish: ofBase.finish, coats: ofBase.coats, prefix: BASE, part: 'base' },
      ...{ pieces: count, after: [base], squareMetres: baseNm2 * 1e-18 },
    },
  }
}

function addButtons(network: Network, { fasteners }: TableGeometry, count: number): string {
  return addStep(network, {
    key: 'buttons',
    operation: 'make-buttons',
    name: 'Make the buttons',
    note: 'Rabbet the strip, then crosscut on the sled with a stop; the last one stays on the strip until it is cut by hand.',
    units: fasteners * count,
    dusty: true,
    work: ['crosscut-slices', 'groove', 'short-parts'],
    after: ['base-mill'],
  })
}

const isTop = (part: Part): boolean => part.name === 'Top'

function addTop(
  network: Network,
  spec: SmallTableSpec,
  geometry: TableGeometry,
  parts: readonly Part[],
  count: number,
  glue: GlueFacts,
): string {
  const trimmed = addStaves(network, {
    prefix: 'top-',
    what: 'the top',
    geometry: geometry.topStaves,
    parts,
    panels: count,
    glue,
    inHalves: spec.inHalves === true,
    trimNote: 'To length and width.',
  })
  return addSmoothing(network, {
    decoration: { what: spec, glue },
    pieces: count,
    juiceGroove: false,
    fingerGrips: false,
    operation: 'sand',
    squareFeet: surfaceSquareFeet(spec.lengthNm, spec.widthNm, spec.topNm),
    after: [trimmed],
  })
}

function addBase(
  network: Network,
  spec: SmallTableSpec,
  geometry: TableGeometry,
  parts: readonly Part[],
  count: number,
  glue: GlueFacts,
): string {
  const mill = addStep(
    network,
    millSticks(
      'base-mill',
      'Joint and plane legs and aprons',
      'Any time: fits in while the top cures.',
      parts,
      network.facts,
    ),
  )
  const joints = addStep(network, {
    key: 'joints',
    operation: 'mortise-and-tenon',
    name: 'Cut mortises and tenons',
    note:
      spec.fasteners === 'buttons'
        ? 'And the groove for the buttons in the aprons.'
        : 'And the seats of the figure-eights in the aprons.',
    units: likeFirst(JOINTS * count),
    dusty: true,
    work: ['groove', 'route'],
    after: [mill],
  })
  const sides = addGlueUp(network, {
    key: 'ends-glue-up',
    operation: 'glue-up-frame',
    name: 'Glue-up of the two ends',
    note: 'A short apron between two legs each; check that they lie flat.',
    glue,
    assemblies: 2 * count,
    pieces: count,
    clampsEach: 2,
    jointsEach: 2,
    after: [joints],
  })
  const whole = addGlueUp(network, {
    key: 'base-glue-up',
    operation: 'glue-up-frame',
    name: 'Glue-up of the base',
    note: 'The long aprons between the ends; check the diagonals.',
    glue,
    assemblies: count,
    pieces: count,
    clampsEach: 4,
    jointsEach: 4,
    after: sides.freed,
  })
  const smooth = addStep(network, {
    key: 'base-sand',
    operation: 'sand',
    name: 'Sand the base',
    note: '',
    units: baseSquareFeet(spec, geometry) * GRITS * count,
    dusty: true,
    work: ['sand'],
    after: whole.freed,
  })
  waitUntilCured(network, whole, smooth, glue)
  return smooth
}

const GRITS = 3

const baseSquareFeet = (spec: SmallTableSpec, { legLengthNm, longApronNm, shortApronNm }: TableGeometry): number =>
  4 * surfaceSquareFeet(spec.legNm, legLengthNm, spec.legNm) +
  2 * surfaceSquareFeet(spec.apronHeightNm, longApronNm, spec.apronNm) +
  2 * surfaceSquareFeet(spec.apronHeightNm, shortApronNm, spec.apronNm)

/**
 * So many equal joints in terms of the first one: each repeat takes 5 % less, down to 30 % less.
 * @source Furniture & Cabinetmaking, How to Price the Job (2009)
 */
export const likeFirst = (joints: number): number =>
  Array.from({ length: joints }, (_, index) => Math.max(0.7, 1 - 0.05 * index)).reduce((sum, share) => sum + share, 0)
