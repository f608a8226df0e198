import { surfaceSquareFeet } from '../design/board-feet.ts'
import type { Part } from '../construction.ts'
import { addFinishing } from '../steps/finishing.ts'
import { addGlueUp, waitUntilCured } from '../steps/glue-ups.ts'
import { millSticks } from '../steps/mill-sticks.ts'
import { addStep, emptyNetwork, type Network } from '../steps/network.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from '../shop-facts.ts'
import type { TableGeometry } from './small-table-geometry.ts'
import type { SmallTableSpec } from './small-table-spec.ts'
import { addSmoothing } from '../steps/smoothing.ts'
import { addStaves } from '../design/staves.ts'

const JOINTS = 8

/** Top and base are made and finished apart, and meet when the finish may be handled. */
export function tableNetwork(
  spec: SmallTableSpec,
  geometry: TableGeometry,
  parts: readonly Part[],
  count: number,
  facts: ShopFacts,
  glue: GlueFacts,
  finish: FinishFacts,
  /** All that is coated. */
  surfaceNm2: number,
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
  addFinishing(network, {
    finish,
    coats: spec.coats,
    squareMetres: surfaceNm2 * 1e-18,
    oneSideAtATime: spec.oneSideAtATime === true,
    pieces: 2 * count,
    packed: count,
    after: [top, base],
    fittings: [
      {
        key: 'fit-top',
        operation: 'fit-top',
        name: 'Fix the top',
        note: 'Tight at the middle of the short aprons, free to slide everywhere else.',
        units: count,
        work: ['move'],
        alsoAfter: buttons,
      },
    ],
  })
  return network
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
