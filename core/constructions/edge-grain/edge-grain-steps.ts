import { surfaceSquareFeet } from '../design/board-feet.ts'
import type { Part } from '../construction.ts'
import type { BreadboardFastening, EdgeGrainSpec } from './edge-grain-spec.ts'
import type { EdgeGrainGeometry } from './edge-grain-geometry.ts'
import { addFinishing, fitFeet } from '../steps/finishing.ts'
import { addGlueUp, waitUntilCured } from '../steps/glue-ups.ts'
import { millSticks } from '../steps/mill-sticks.ts'
import { addStep, emptyNetwork, type Network } from '../steps/network.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import { coatsOnFaces, type Faces } from '../design/faces.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'
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
  faces: Faces,
): Network {
  const network = emptyNetwork(facts, pieceFactsOf(parts, count, spec.food ? 'chopping' : 'other', facts))
  const trimmed = addStaves(network, {
    prefix: '',
    what: '',
    geometry,
    parts: parts.filter((part) => !isEnd(part)),
    panels: count,
    glue,
    inHalves: spec.inHalves === true,
    trimNote: spec.breadboard === null ? 'To length and width.' : 'To width, and to length with the tongues.',
  })
  const whole =
    spec.breadboard === null
      ? trimmed
      : addBreadboardEnds(network, parts.filter(isEnd), count, glue, trimmed, spec.breadboard.fastening ?? 'pegs')
  const smooth = addSmoothing(network, {
    decoration: { what: spec, glue },
    pieces: count,
    juiceGroove: spec.juiceGroove,
    fingerGrips: spec.fingerGrips,
    operation: 'sand',
    squareFeet: surfaceSquareFeet(spec.lengthNm, spec.widthNm, spec.thicknessNm),
    after: [whole],
  })
  addFinishing(network, {
    ...coatsOnFaces(faces, spec, count, [smooth]),
    fittings: spec.feet ? [fitFeet(count)] : [],
  })
  return network
}

const isEnd = (part: Part): boolean => part.name === 'Breadboard end'

const CLAMPS_PER_ENDS = 2

const FIT_NOTES: Readonly<Record<BreadboardFastening, string>> = {
  pegs: 'Tongue on the slab, groove in the ends. Round holes in the ends; in the tongue the outer holes are slots, so the slab can move.',
  screws:
    'Tongue on the slab, groove in the ends. Counterbore the ends; a round hole at the middle, slots for the outer screws, so the slab can move.',
  dovetail: 'A sliding dovetail across the slab, its socket in the ends; it slides by hand, without play.',
  glue: 'Tongue on the slab, groove in the ends; it slides by hand.',
}

const FIX_NOTES: Readonly<Record<BreadboardFastening, string>> = {
  pegs: 'Glue a hand’s width at the middle only; pegs hold the rest. Glue pegs into the ends, not into the slots.',
  screws: 'Glue a hand’s width at the middle only. Outer screws snug, so that they slide; then the plugs.',
  dovetail: 'Slide the end on to its middle, glue a hand’s width there, push it home.',
  glue: 'Glue a hand’s width at the middle only.',
}

function addBreadboardEnds(
  network: Network,
  ends: readonly Part[],
  count: number,
  glue: GlueFacts,
  trimmed: string,
  held: BreadboardFastening,
): string {
  const mill = addStep(
    network,
    millSticks('mill-ends', 'Joint and plane the ends', 'Any time: fits in while the slab cures.', ends, network.facts),
  )
  const fit = addStep(network, {
    key: 'fit-ends',
    operation: 'fit-breadboard-ends',
    name: 'Cut and fit the breadboard ends',
    note: FIT_NOTES[held],
    units: count,
    dusty: true,
    work: held === 'dovetail' ? ['groove', 'route', 'on-edge'] : ['groove'],
    after: [mill, trimmed],
  })
  const glueUp = addGlueUp(network, {
    key: 'ends-glue-up',
    operation: 'glue-up-frame',
    name: 'Fix the breadboard ends',
    note: FIX_NOTES[held],
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
    work: ['sand', 'move'],
    after: glueUp.freed,
  })
  waitUntilCured(network, glueUp, flush, glue)
  return flush
}
