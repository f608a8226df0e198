import { surfaceSquareFeet } from '../design/board-feet.ts'
import { addHandHoles, boxExtraSteps } from './box-extras.ts'
import { addInside, type BoxFinish } from './box-inside.ts'
import type { BoxGeometry } from './box-geometry.ts'
import type { BoxSpec } from './box-spec.ts'
import type { Part } from '../construction.ts'
import { SPLINE } from '../design/frame-parts.ts'
import { addFinishing } from '../steps/finishing.ts'
import { addGlueUp, waitUntilCured } from '../steps/glue-ups.ts'
import { millSticks } from '../steps/mill-sticks.ts'
import { addStep, emptyNetwork, type Network, type StepDraft } from '../steps/network.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'
import { addSmoothing } from '../steps/smoothing.ts'
import { addSplines } from '../steps/splines.ts'
import { addStaves } from '../design/staves.ts'

/** Band clamps or a pair each way draw a box together. */
const CLAMPS_PER_BOX = 4

/** From rough boards to packed boxes; sides, bottom and lid are made side by side and meet at the glue-up and at the fitting. */
export function boxNetwork(
  spec: BoxSpec,
  geometry: BoxGeometry,
  parts: readonly Part[],
  count: number,
  facts: ShopFacts,
  glue: GlueFacts,
  coated: BoxFinish,
): Network {
  const network = emptyNetwork(facts, pieceFactsOf(parts, count, spec.food ? 'food' : 'other', facts))
  const named = (name: string): Part[] => parts.filter((part) => part.name === name)
  const corners = addSides(
    network,
    spec,
    parts.filter(({ milledIn, name }) => milledIn === 'mill' && name !== SPLINE),
    count,
  )
  const bottom = addStaves(network, {
    prefix: 'bottom-',
    what: 'the bottom',
    geometry: geometry.bottomStaves,
    parts: named('Bottom'),
    panels: count,
    glue,
    inHalves: spec.inHalves === true,
    trimNote: 'To the size of its grooves less the room to grow.',
  })
  const loose = [addHandHoles(network, spec, count, corners), bottom]
  const closed = addAssembly(network, spec, count, glue, addInside(network, spec, coated, count, loose))
  const lidded =
    geometry.lid === null
      ? closed
      : addLid(network, spec, count, [
          closed,
          addStaves(network, {
            prefix: 'lid-',
            what: 'the lid',
            geometry: geometry.lid.staves,
            parts: named('Lid'),
            panels: count,
            glue,
            inHalves: spec.inHalves === true,
            trimNote: 'A little over; it is fitted to the box.',
          }),
        ])
  const smooth = addSmoothing(network, {
    decoration: { what: spec, glue },
    pieces: count,
    juiceGroove: false,
    fingerGrips: false,
    operation: 'sand',
    squareFeet: surfaceSquareFeet(
      spec.lengthNm,
      spec.widthNm,
      spec.heightNm + (geometry.lid === null ? 0 : spec.lidNm),
    ),
    after: [lidded],
  })
  addFinishing(network, {
    finish: coated.finish,
    coats: spec.coats,
    squareMetres: coated.ownNm2 * 1e-18,
    ...(coated.inside === null ? {} : { part: 'outside' }),
    oneSideAtATime: spec.oneSideAtATime === true,
    pieces: count,
    after: [smooth],
    fittings: [...(spec.lid === 'hinged' ? [fitHinges(count)] : []), ...boxExtraSteps(spec, count)],
  })
  return network
}

function addSides(network: Network, spec: BoxSpec, sides: readonly Part[], count: number): string {
  const mill = addStep(network, millSticks('mill', 'Joint and plane the sides', '', sides, network.facts))
  const groove = addStep(network, {
    key: 'groove',
    operation: 'groove-box',
    name: 'Groove the sides for the bottom',
    note: spec.bottomFit === 'drawer' ? 'The back is cut off above the groove, so that the bottom slides in.' : '',
    units: count,
    dusty: true,
    work: ['groove'],
    after: [mill],
  })
  const mitred = spec.corners === 'mitred'
  return addStep(network, {
    key: 'corners',
    operation: mitred ? 'mitre-frame' : 'rebate-box',
    name: mitred ? 'Miter the sides' : 'Cut the sides off and rabbet the long ones',
    units: count,
    dusty: true,
    work: mitred ? ['mitre'] : ['crosscut', 'groove'],
    after: [groove],
  })
}

/** Glue-up with the bottom in its groove, splines, outside flush. Returns the key after which a lid may be fitted. */
function addAssembly(
  network: Network,
  spec: BoxSpec,
  count: number,
  glue: GlueFacts,
  after: readonly string[],
): string {
  const drawer = spec.bottomFit === 'drawer'
  const glueUp = addGlueUp(network, {
    key: 'glue-up',
    operation: 'glue-up-box',
    name: 'Glue-up',
    note: drawer
      ? 'Check the diagonals; slide the bottom in and fix it at the front only.'
      : 'Bottom loose in its groove, a dab of glue at the middle of each end only; check the diagonals.',
    glue,
    assemblies: count,
    pieces: count,
    clampsEach: CLAMPS_PER_BOX,
    jointsEach: 4,
    after,
  })
  const splined =
    spec.splines > 0 ? addSplines(network, { keys: 4 * spec.splines, pieces: count, glue, after: glueUp.freed }) : null
  const flush = addStep(network, {
    key: 'flush',
    operation: 'flush-box',
    name: 'Plane the outside flush',
    units: count,
    dusty: true,
    work: ['sand'],
    after: splined === null ? glueUp.freed : [],
  })
  waitUntilCured(network, glueUp, splined === null ? flush : 'spline-slots', glue)
  if (splined !== null) waitUntilCured(network, { glued: [splined], freed: [] }, flush, glue)
  return flush
}

const addLid = (network: Network, spec: BoxSpec, count: number, after: readonly string[]): string =>
  addStep(network, {
    key: 'fit-lid',
    operation: 'fit-lid',
    name: 'Fit the lid',
    note:
      spec.lid === 'hinged'
        ? 'Cut the hinge mortises now, install the hinges after the finish.'
        : 'Room to grow across the grain.',
    units: count,
    dusty: true,
    work: ['crosscut', 'route'],
    after,
  })

const fitHinges = (count: number): Omit<StepDraft, 'after'> => ({
  key: 'hinges',
  operation: 'fit-hinges',
  name: 'Install hinges',
  units: count,
})
