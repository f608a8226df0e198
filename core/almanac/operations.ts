import type { Work } from '../cautions/cautions-for-step.ts'
import type { StandardTime } from '../constructions/shop-facts.ts'
import { practice, type Figure } from '../waits/figure.ts'
import { STEP_FIGURES as F } from '../waits/step-figures.ts'

/** Setup of a machine from the same published list: fence, blade or height change and a test cut. */
const SET_UP_MIN = usualOf(F.machine_setup.per_setup)

/** Mortise by machine, tenon on the saw, fitted with plane and chisel. What is published is for joints fitted by hand throughout. */
const MACHINED_JOINT: Figure = {
  ...guess(20, 35, 60),
  source: `${guess(20, 35, 60).source}; by hand throughout ${usualOf(F.joint_furniture.per_joint)} min a joint are ${F.joint_furniture.per_joint.source}`,
}

/** Where a source prints no spread, makers' own hours run from three quarters to half as much again. */
const [USUAL_OPTIMISTIC, USUAL_PESSIMISTIC] = [0.75, 1.5]

/**
 * `glue-up`: parts are brought together under pressure; `gluing`: other work with glue; `fitting`: parts are fitted, and hardware goes on
 * with it; `coat`: finish is put on; `rubbing-out`: cured finish is worked on; `other`: none of them.
 */
export type OperationKind = 'glue-up' | 'gluing' | 'fitting' | 'coat' | 'rubbing-out' | 'other'

/** A row of the table: what it takes, what kind of work it is, and what in it can hurt somebody. */
interface OperationRow<Id extends string> extends StandardTime {
  readonly operation: Id
  readonly kind: OperationKind
  /** Null where that depends on the step. */
  readonly dangers: readonly Work[] | null
}

/**
 * Hands-on times that a new shop starts with: what makers have published, and starting guesses where nobody has. The shop's
 * own log replaces them. Setups with a family are shared by steps that follow each other; those without are part of the step.
 */
export const OPERATIONS = [
  time('mill-stock', 'Joint and plane stock', 'board foot', F.mill_solid.rate, {
    family: 'planer',
    dangers: ['joint', 'plane'],
  }),
  time('rip-strips', 'Rip strips', 'strip', F.rip.per_strip, { family: 'rip-saw', dangers: ['rip-narrow'] }),
  time('freshen-edges', 'Freshen the edges', 'panel', guess(5, 10, 15), { dangers: ['joint'] }),
  time('glue-up-panel', 'Glue up a panel', 'panel', F.spread_and_clamp.per_assembly, { own: 10, kind: 'glue-up' }),
  time('glue-up-slices', 'Glue up the slices', 'board', F.spread_and_clamp.per_assembly, { own: 10, kind: 'glue-up' }),
  time('glue-up-frame', 'Glue up a frame', 'frame', F.spread_and_clamp.per_assembly, { own: 10, kind: 'glue-up' }),
  time('spread-and-close', 'Spread and close joints', 'joint', guess(0.5, 0.75, 1), { own: 2, kind: 'gluing' }),
  time('release-clamps', 'Take off the clamps', 'assembly', guess(2, 4, 8), {}),
  time('flatten-panel', 'Flatten a panel', 'panel', F.flatten_board.per_board, {
    family: 'drum-sander',
    dangers: ['sand', 'move'],
  }),
  time('flatten-end-grain', 'Flatten an end-grain board', 'board', twice(F.flatten_board.per_board), {
    family: 'drum-sander',
    dangers: ['plane-end-grain', 'sand', 'move'],
  }),
  time('crosscut-slices', 'Crosscut slices', 'cut', F.crosscut_slices.per_cut, {
    family: 'crosscut-sled',
    dangers: ['crosscut-slices'],
  }),
  time('trim-square', 'Trim square', 'board', guess(3, 5, 10), { family: 'crosscut-sled', dangers: ['crosscut'] }),
  time('tongue-and-groove', 'Cut tongues and grooves', 'frame', guess(10, 20, 40), {
    family: 'dado',
    dangers: ['groove'],
  }),
  time('mitre-frame', 'Miter a frame', 'frame', F.mitre_frame.per_frame, { family: 'mitre', dangers: ['mitre'] }),
  time('bevel-edges', 'Bevel the edges of a frame', 'frame', guess(8, 15, 30), {
    family: 'rip-saw',
    dangers: ['on-edge', 'route'],
  }),
  time('spline-slots', 'Cut spline slots', 'slot', guess(1, 2, 4), {
    family: 'spline-jig',
    dangers: ['groove', 'on-edge'],
  }),
  time('glue-splines', 'Glue in splines', 'spline', guess(1, 2, 3), { kind: 'gluing' }),
  time('fit-breadboard-ends', 'Cut and fit breadboard ends', 'board', guess(40, 60, 120), {
    family: 'dado',
    kind: 'fitting',
    dangers: ['groove'],
  }),
  time('groove-box', 'Groove the sides of a box', 'box', guess(5, 10, 20), { family: 'dado', dangers: ['groove'] }),
  time('rebate-box', 'Cut off and rabbet the sides of a box', 'box', guess(10, 20, 40), {
    family: 'dado',
    dangers: ['crosscut', 'groove'],
  }),
  time('glue-up-box', 'Glue up a box', 'box', F.spread_and_clamp.per_assembly, { own: 10, kind: 'glue-up' }),
  time('flush-box', 'Plane a box flush', 'box', guess(8, 15, 30), { dangers: ['sand'] }),
  time('fit-lid', 'Fit a lid', 'lid', guess(20, 40, 80), { kind: 'fitting', dangers: ['crosscut', 'route'] }),
  time('fit-hinges', 'Install hinges', 'lid', guess(8, 15, 30), { kind: 'fitting' }),
  time('mortise-and-tenon', 'Cut and fit mortises and tenons', 'joint', MACHINED_JOINT, {
    family: 'mortiser',
    kind: 'fitting',
    dangers: ['groove', 'route'],
  }),
  time('make-buttons', 'Make buttons for a top', 'button', guess(1, 2, 4), {
    own: 5,
    dangers: ['crosscut-slices', 'groove', 'short-parts'],
  }),
  time('fit-top', 'Fix a top to its base', 'table', guess(15, 25, 45), { kind: 'fitting', dangers: ['move'] }),
  time('ease-edges', 'Ease the edges', 'board', F.ease_edges_groove.per_board, {
    family: 'router',
    dangers: ['route'],
  }),
  time('juice-groove', 'Rout a juice groove', 'board', guess(8, 15, 30), {
    family: 'router-core-box',
    dangers: ['route'],
  }),
  time('finger-grips', 'Rout finger grips', 'board', guess(5, 10, 20), { family: 'router-cove', dangers: ['route'] }),
  time('sand', 'Sand', 'square foot and grit', F.sand_per_grit.per_ft2, { dangers: ['sand'] }),
  time('sand-end-grain', 'Sand end grain', 'square foot and grit', twice(F.sand_per_grit.per_ft2), {
    dangers: ['sand'],
  }),
  time('raise-grain', 'Raise the grain', 'piece', guess(2, 4, 8), {}),
  time('wipe-coat', 'Wipe on a coat', 'piece', F.wipe_coat.per_coat, { kind: 'coat' }),
  time('brush-coat', 'Brush on a coat', 'piece', F.brush_coat.per_coat, { kind: 'coat' }),
  time('spray-coat', 'Spray a coat', 'piece', guess(3, 6, 12), {
    family: 'spray-gun',
    kind: 'coat',
    dangers: ['coat', 'spray'],
  }),
  time('sand-between-coats', 'Sand between coats', 'piece', F.sand_between_coats.per_coat, {
    dangers: ['sand', 'sand-finish'],
  }),
  time('rub-out', 'Rub out a finish', 'piece', guess(10, 15, 30), { kind: 'rubbing-out' }),
  time('untape', 'Take off tape', 'box', guess(3, 5, 10), {}),
  time('inlay', 'Rout and glue in an inlay', 'piece', guess(20, 40, 90), {
    family: 'router',
    dangers: ['route', 'short-parts'],
  }),
  time('engrave', 'Engrave', 'piece', guess(10, 20, 45), { own: 10, dangers: ['engrave'] }),
  time('send-engraving', 'Take pieces to the engraver', 'piece', guess(3, 5, 10), { own: 25 }),
  time('fetch-engraving', 'Fetch pieces from the engraver', 'piece', guess(3, 5, 10), { own: 25 }),
  time('cut-handles', 'Cut handles into a tray or drawer', 'box', guess(10, 15, 30), {
    family: 'router',
    dangers: ['route'],
  }),
  time('fit-handles', 'Screw on handles', 'piece', guess(5, 10, 20), { kind: 'fitting' }),
  time('fit-front', 'Fit a front to a drawer', 'drawer', guess(10, 20, 40), { kind: 'fitting' }),
  time('fit-feet', 'Fit the feet', 'board', guess(5, 8, 15), { kind: 'fitting' }),
  time('inspect-and-pack', 'Inspect and pack', 'piece', F.final_inspect_pack.per_piece, { dangers: ['hand-over'] }),
  time('by-machine', 'Machine work', 'minute', guess(0.7, 1, 1.75), {}),
  time('by-hand', 'Hand work', 'minute', guess(0.7, 1, 1.75), {}),
  time('glue-up', 'Glue-up', 'minute', guess(0.75, 1, 1.5), { kind: 'glue-up' }),
  time('coat', 'Coat of finish', 'minute', guess(0.75, 1, 1.5), { kind: 'coat' }),
]

/** Every operation that the program knows by itself. */
export type Operation = (typeof OPERATIONS)[number]['operation']

const BY_ID: ReadonlyMap<string, OperationRow<string>> = new Map(OPERATIONS.map((row) => [row.operation, row]))

export const isOperation = (id: string): id is Operation => BY_ID.has(id)

/** Null: this version does not know the operation. */
export const operationKind = (operation: string): OperationKind | null => BY_ID.get(operation)?.kind ?? null

/** What is done in an operation, as far as it can hurt somebody; null where that depends on the step. */
export const dangersOf = (operation: string): readonly Work[] | null => BY_ID.get(operation)?.dangers ?? null

function time<const Id extends string>(
  operation: Id,
  name: string,
  unit: string,
  figure: Figure,
  {
    family,
    own = 0,
    kind = 'other',
    dangers,
  }: {
    readonly family?: string
    readonly own?: number
    readonly kind?: OperationKind
    readonly dangers?: readonly Work[]
  },
): OperationRow<Id> {
  const usual = usualOf(figure)
  return {
    operation,
    kind,
    dangers: dangers ?? null,
    name,
    setUpMin: family === undefined ? own : SET_UP_MIN,
    family: family ?? null,
    perUnitMin: usual,
    unit,
    optimisticFactor: figure.min === null ? USUAL_OPTIMISTIC : figure.min / usual,
    pessimisticFactor: figure.max === null ? USUAL_PESSIMISTIC : figure.max / usual,
    source: figure.source,
  }
}

function guess(least: number, usual: number, most: number): Figure {
  return practice([least, usual, most], 'min', '', " (starting guess; replace with the shop's own log)")
}

/** End grain takes about twice the work of edge grain. */
function twice(figure: Figure): Figure {
  const factor = usualOf(F.end_grain_vs_edge_grain.factor)
  const times = (value: number | null): number | null => (value === null ? null : value * factor)
  return {
    ...figure,
    min: times(figure.min),
    typical: times(figure.typical),
    max: times(figure.max),
    source: `${figure.source}; doubled for end grain: ${F.end_grain_vs_edge_grain.factor.source}`,
  }
}

function usualOf(figure: Figure): number {
  if (figure.typical === null) throw new Error(`a standard time needs a usual figure: ${JSON.stringify(figure)}`)
  return figure.typical
}
