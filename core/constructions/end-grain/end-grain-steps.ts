import { surfaceSquareFeet } from '../design/board-feet.ts'
import type { Part } from '../construction.ts'
import type { EndGrainSpec } from './end-grain-spec.ts'
import type { EndGrainGeometry } from './end-grain-geometry.ts'
import { addFinishing, fitFeet } from '../steps/finishing.ts'
import { isFramePart } from '../design/frame-parts.ts'
import { standsOffNm } from '../design/mitred-frame.ts'
import { addFrame } from '../steps/frame-steps.ts'
import { clampsOn } from '../steps/clamps.ts'
import { waitUntilCured } from '../steps/glue-ups.ts'
import { addPanelGlueUp } from '../steps/panel-glue-up.ts'
import { addStep, emptyNetwork, type Network } from '../steps/network.ts'
import { addPanels } from '../steps/panel-steps.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import { coatsOnFaces, type Faces } from '../design/faces.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'
import { addSmoothing } from '../steps/smoothing.ts'

/**
 * From rough boards to packed end-grain boards. Frame stock hangs on nothing until it is fitted to the field, so it can be milled
 * while the field cures.
 */
export function endGrainNetwork(
  spec: EndGrainSpec,
  geometry: EndGrainGeometry,
  parts: readonly Part[],
  count: number,
  facts: ShopFacts,
  glue: GlueFacts,
  faces: Faces,
): Network {
  const network = emptyNetwork(facts, pieceFactsOf(parts, count, spec.food ? 'chopping' : 'other', facts))
  const field = addField(
    network,
    geometry,
    count,
    glue,
    addSlices(network, geometry, parts, glue, spec.inHalves === true),
    spec.inHalves === true,
  )
  const whole =
    spec.frame === null || geometry.frame === null
      ? field
      : addFrame(network, {
          frame: spec.frame,
          geometry: geometry.frame,
          parts: parts.filter(isFramePart),
          pieces: count,
          glue,
          field,
        })
  const smooth = addSmoothing(network, {
    decoration: { what: spec, glue },
    pieces: count,
    juiceGroove: spec.juiceGroove,
    fingerGrips: spec.fingerGrips,
    operation: 'sand-end-grain',
    squareFeet: sandingSquareFeet(spec, geometry),
    after: [whole],
  })
  addFinishing(network, {
    ...coatsOnFaces(faces, spec, count, [smooth]),
    fittings: spec.feet ? [fitFeet(count)] : [],
  })
  return network
}

function addSlices(
  network: Network,
  geometry: EndGrainGeometry,
  parts: readonly Part[],
  glue: GlueFacts,
  inHalves: boolean,
): string {
  const panels = geometry.panels.length
  const longest = Math.max(...geometry.panels.map((panel) => panel.lengthNm))
  const strips = parts.filter((part) => !isFramePart(part))
  const woods = strips.map(({ wood }) => wood)
  const { panelWidthNm, stripThicknessNm } = geometry
  const joint = { lengthNm: longest, thicknessNm: stripThicknessNm, reachNm: panelWidthNm, woods }
  const first = clampsOn('The panel', joint, glue, network.facts)
  network.warnings.push(...first.warnings)
  const flatten = addPanels(network, {
    prefix: '',
    what: '',
    key: 'first-glue-up',
    name: 'First glue-up',
    note: panels === 1 ? 'Strips side by side into a panel.' : `Strips side by side into ${panels} panels.`,
    strips,
    panels,
    pieces: lotSize(geometry),
    clampsEach: first.clamps,
    jointsEach: (geometry.panels[0]?.kind.strips.length ?? 1) - 1,
    squareMetresEach: ((geometry.panels[0]?.kind.strips.length ?? 1) - 1) * longest * stripThicknessNm * 1e-18,
    joint: { jointNm: longest, reachNm: panelWidthNm },
    inHalves,
    glue,
    flattenNote: 'Down to the cell size, no further.',
  })
  return addStep(network, {
    key: 'slice',
    operation: 'crosscut-slices',
    name: 'Crosscut the slices',
    note: 'On the sled, square the first end, keep them in order.',
    units: geometry.panels.reduce((sum, panel) => sum + panel.slices + 1, 0),
    dusty: true,
    work: ['crosscut-slices'],
    after: [flatten],
  })
}

function addField(
  network: Network,
  geometry: EndGrainGeometry,
  count: number,
  glue: GlueFacts,
  sliced: string,
  inHalves: boolean,
): string {
  const slices = geometry.plan.kinds.reduce((sum, kind) => sum + kind.slices, 0)
  const { panelWidthNm, sliceNm, stripThicknessNm } = geometry
  const woods = geometry.pattern.flat()
  const joint = { lengthNm: panelWidthNm, thicknessNm: sliceNm, reachNm: slices * stripThicknessNm, woods }
  const clamped = clampsOn('The board', joint, glue, network.facts)
  network.warnings.push(...clamped.warnings)
  const second = addPanelGlueUp(
    network,
    {
      key: 'second-glue-up',
      operation: 'glue-up-slices',
      name: 'Second glue-up',
      note: 'Roll slices end grain up, flip the marked ones end for end. Dry-fit, then glue.',
      glue,
      assemblies: count,
      pieces: count,
      clampsEach: clamped.clamps,
      jointsEach: slices - 1,
      squareMetresEach: (slices - 1) * panelWidthNm * sliceNm * 1e-18,
      panel: { jointNm: panelWidthNm, reachNm: slices * stripThicknessNm },
      after: [sliced],
    },
    inHalves,
  )
  const flatten = addStep(network, {
    key: 'flatten-board',
    operation: 'flatten-end-grain',
    name: count === 1 ? 'Flatten the board' : 'Flatten the boards',
    note: 'Drum sander or router sled, light passes.',
    units: count,
    dusty: true,
    work: ['plane-end-grain', 'sand', 'move'],
    after: second.freed,
  })
  waitUntilCured(network, second, flatten, glue)
  return addStep(network, {
    key: 'trim',
    operation: 'trim-square',
    name: 'Trim square',
    note: 'Only what it takes to clean the edges.',
    units: count,
    dusty: true,
    work: ['crosscut'],
    after: [flatten],
  })
}

/** End grain counts in full, the long grain of a frame and of the edges for half: the standard time is that of end grain. */
function sandingSquareFeet(spec: EndGrainSpec, { fieldAcrossNm, fieldAlongNm, frame }: EndGrainGeometry): number {
  const across = frame?.outsideAcrossNm ?? fieldAcrossNm
  const along = frame?.outsideAlongNm ?? fieldAlongNm
  const field = surfaceSquareFeet(fieldAcrossNm, fieldAlongNm, 0)
  return field + (surfaceSquareFeet(across, along, spec.thicknessNm + standsOffNm(spec.frame)) - field) / 2
}

/** How many boards the panels serve. */
const lotSize = (geometry: EndGrainGeometry): number => {
  const perBoard = geometry.plan.kinds.reduce((sum, kind) => sum + kind.slices, 0)
  return geometry.panels.reduce((sum, panel) => sum + panel.slices, 0) / perBoard
}
