import { boardFeetOf, surfaceSquareFeet } from './board-feet.ts'
import type { Part } from './construction.ts'
import type { EndGrainSpec } from './end-grain-board.ts'
import type { EndGrainGeometry } from './end-grain-geometry.ts'
import { addFinishing } from './finishing.ts'
import { addFrame } from './frame-steps.ts'
import { addGlueUp, clampsAlong, waitUntilCured } from './glue-ups.ts'
import { addStep, emptyNetwork, type Network } from './network.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from './shop-facts.ts'

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
  finish: FinishFacts,
): Network {
  const network = emptyNetwork(facts)
  const sliced = addPanels(network, geometry, parts, facts, glue)
  const field = addField(network, geometry, count, facts, glue, sliced)
  const whole =
    spec.frame === null || geometry.frame === null
      ? field
      : addFrame(network, {
          frame: spec.frame,
          geometry: geometry.frame,
          parts: parts.filter(isFrame),
          pieces: count,
          glue,
          field,
        })
  const smooth = addSmoothing(network, spec, geometry, count, whole)
  addFinishing(network, {
    finish,
    coats: spec.coats,
    pieces: count,
    after: [smooth],
    food: true,
    fittings: spec.feet
      ? [
          {
            key: 'feet',
            operation: 'fit-feet',
            name: 'Fit the feet',
            note: 'Four a board, screwed, so that it can be dried standing.',
            units: count,
          },
        ]
      : [],
  })
  return network
}

const isFrame = (part: Part): boolean => part.name.startsWith('Frame')

function addPanels(
  network: Network,
  geometry: EndGrainGeometry,
  parts: readonly Part[],
  facts: ShopFacts,
  glue: GlueFacts,
): string {
  const strips = parts.filter((part) => !isFrame(part))
  const panels = geometry.panels.length
  const longest = Math.max(...geometry.panels.map((panel) => panel.lengthNm))
  const mill = addStep(network, {
    key: 'mill',
    operation: 'mill-stock',
    name: 'Joint and plane the stock',
    note: 'Boards wider than the jointer are ripped first.',
    units: boardFeetOf(strips),
    dusty: true,
    cautions: ['dust_lung', 'noise'],
    after: [],
  })
  const rip = addStep(network, {
    key: 'rip',
    operation: 'rip-strips',
    name: 'Rip the strips',
    units: strips.reduce((sum, part) => sum + part.quantity, 0),
    dusty: true,
    cautions: ['saw', 'kickback'],
    after: [mill],
  })
  const first = addGlueUp(network, {
    key: 'first-glue-up',
    operation: 'glue-up-panel',
    name: 'First glue-up',
    note: panels === 1 ? 'Strips side by side into a panel.' : `Strips side by side into ${panels} panels.`,
    glue,
    assemblies: panels,
    pieces: lotSize(geometry),
    clampsEach: clampsAlong(longest, facts),
    jointsEach: (geometry.panels[0]?.kind.strips.length ?? 1) - 1,
    after: [rip],
    fresh: { step: rip, panels },
  })
  const flatten = addStep(network, {
    key: 'flatten-panel',
    operation: 'flatten-panel',
    name: panels === 1 ? 'Flatten the panel' : 'Flatten the panels',
    note: 'Down to the cell size, no further.',
    units: panels,
    dusty: true,
    cautions: ['dust_lung', 'noise'],
    after: first.freed,
  })
  waitUntilCured(network, first, flatten, glue)
  return addStep(network, {
    key: 'slice',
    operation: 'crosscut-slices',
    name: 'Crosscut the slices',
    note: 'On the sled, square the first end, keep them in order.',
    units: geometry.panels.reduce((sum, panel) => sum + panel.slices + 1, 0),
    dusty: true,
    cautions: ['kickback', 'saw'],
    after: [flatten],
  })
}

function addField(
  network: Network,
  geometry: EndGrainGeometry,
  count: number,
  facts: ShopFacts,
  glue: GlueFacts,
  sliced: string,
): string {
  const slices = geometry.plan.kinds.reduce((sum, kind) => sum + kind.slices, 0)
  const second = addGlueUp(network, {
    key: 'second-glue-up',
    operation: 'glue-up-slices',
    name: 'Second glue-up',
    note: 'Turn every slice onto its end as marked, dry-fit, then glue.',
    glue,
    assemblies: count,
    pieces: count,
    clampsEach: clampsAlong(geometry.panelWidthNm, facts),
    jointsEach: slices - 1,
    after: [sliced],
  })
  const flatten = addStep(network, {
    key: 'flatten-board',
    operation: 'flatten-end-grain',
    name: count === 1 ? 'Flatten the board' : 'Flatten the boards',
    note: 'Drum sander or router sled, light passes.',
    units: count,
    dusty: true,
    cautions: ['planer_end_grain', 'dust_lung'],
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
    cautions: ['saw', 'dust_lung'],
    after: [flatten],
  })
}

function addSmoothing(
  network: Network,
  spec: EndGrainSpec,
  geometry: EndGrainGeometry,
  count: number,
  before: string,
): string {
  let last = before
  if (spec.fingerGrips) {
    last = addStep(network, {
      key: 'grips',
      operation: 'finger-grips',
      name: 'Rout the finger grips',
      units: count,
      dusty: true,
      cautions: ['dust_lung', 'noise'],
      after: [last],
    })
  }
  last = addStep(network, {
    key: 'ease-edges',
    operation: 'ease-edges',
    name: 'Ease the edges',
    units: count,
    dusty: true,
    cautions: ['dust_lung', 'noise'],
    after: [last],
  })
  return addStep(network, {
    key: 'sand',
    operation: 'sand-end-grain',
    name: 'Sand',
    note: `Through ${GRITS.join(', ')} grit.`,
    units: sandingSquareFeet(spec, geometry) * GRITS.length * count,
    dusty: true,
    cautions: ['dust_lung', 'dust_allergy'],
    after: [last],
  })
}

const GRITS = [80, 120, 180, 220] as const

/** End grain counts in full, the long grain of a frame and of the edges for half: the standard time is that of end grain. */
function sandingSquareFeet(spec: EndGrainSpec, { fieldAcrossNm, fieldAlongNm, frame }: EndGrainGeometry): number {
  const across = frame?.outsideAcrossNm ?? fieldAcrossNm
  const along = frame?.outsideAlongNm ?? fieldAlongNm
  const field = surfaceSquareFeet(fieldAcrossNm, fieldAlongNm, 0)
  return field + (surfaceSquareFeet(across, along, spec.thicknessNm) - field) / 2
}

/** How many boards the panels serve. */
const lotSize = (geometry: EndGrainGeometry): number => {
  const perBoard = geometry.plan.kinds.reduce((sum, kind) => sum + kind.slices, 0)
  return geometry.panels.reduce((sum, panel) => sum + panel.slices, 0) / perBoard
}
