import { boardFeetOfSticks, surfaceSquareFeet } from '../design/board-feet.ts'
import type { Part } from '../construction.ts'
import type { EdgeGrainSpec } from './edge-grain-spec.ts'
import type { EdgeGrainGeometry } from './edge-grain-geometry.ts'
import { addFinishing, fitFeet } from '../steps/finishing.ts'
import { addGlueUp, waitUntilCured } from '../steps/glue-ups.ts'
import { addStep, emptyNetwork, type Network } from '../steps/network.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from '../shop-facts.ts'
import { addSmoothing } from '../steps/smoothing.ts'
import { addStaves } from '../design/staves.ts'

/** From rough boards to packed boards or slabs: one glue-up, and a second small one where breadboard ends are fixed. */
export function edgeGrainNetwork(
  spec: EdgeGrainSpec,
  geometry: EdgeGrainGeometry,
  parts: readonly Part[],
  count: number,
  facts: ShopFacts,
  glue: GlueFacts,
  finish: FinishFacts,
): Network {
  const network = emptyNetwork(facts, pieceFactsOf(parts, count, spec.food ? 'chopping' : 'other', facts))
  const trimmed = addStaves(network, {
    prefix: '',
    what: '',
    geometry,
    parts: parts.filter((part) => !isEnd(part)),
    panels: count,
    glue,
    trimNote: spec.breadboard === null ? 'To length and width.' : 'To width, and to length with the tongues.',
  })
  const whole =
    spec.breadboard === null ? trimmed : addBreadboardEnds(network, parts.filter(isEnd), count, glue, trimmed)
  const smooth = addSmoothing(network, {
    pieces: count,
    juiceGroove: spec.juiceGroove,
    fingerGrips: spec.fingerGrips,
    operation: 'sand',
    squareFeet: surfaceSquareFeet(spec.lengthNm, spec.widthNm, spec.thicknessNm),
    after: [whole],
  })
  addFinishing(network, {
    finish,
    coats: spec.coats,
    pieces: count,
    after: [smooth],
    fittings: spec.feet ? [fitFeet(count)] : [],
  })
  return network
}

const isEnd = (part: Part): boolean => part.name === 'Breadboard end'

const CLAMPS_PER_ENDS = 2

function addBreadboardEnds(
  network: Network,
  ends: readonly Part[],
  count: number,
  glue: GlueFacts,
  trimmed: string,
): string {
  const mill = addStep(network, {
    key: 'mill-ends',
    operation: 'mill-stock',
    name: 'Joint and plane the ends',
    note: 'Any time: fits in while the slab cures.',
    units: boardFeetOfSticks(ends),
    dusty: true,
    work: ['joint', 'plane'],
    after: [],
  })
  const fit = addStep(network, {
    key: 'fit-ends',
    operation: 'fit-breadboard-ends',
    name: 'Cut and fit the breadboard ends',
    note: 'Tongue on the slab, groove in the ends. Round holes in the ends; in the tongue the outer holes are slots, so the slab can move.',
    units: count,
    dusty: true,
    work: ['groove'],
    after: [mill, trimmed],
  })
  const glueUp = addGlueUp(network, {
    key: 'ends-glue-up',
    operation: 'glue-up-frame',
    name: 'Fix the breadboard ends',
    note: 'Glue at the middle only; pins hold the rest.',
    glue,
    assemblies: count,
    pieces: count,
    clampsEach: CLAMPS_PER_ENDS,
    jointsEach: 2,
    after: [fit],
  })
  const flush = addStep(network, {
    key: 'flush-ends',
    operation: 'flatten-panel',
    name: 'Flush the ends',
    units: count,
    dusty: true,
    work: ['sand'],
    after: glueUp.freed,
  })
  waitUntilCured(network, glueUp, flush, glue)
  return flush
}
