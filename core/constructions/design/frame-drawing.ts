import type { Dimension, DrawingView, Point, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { dimension, outline, polygon, rectangle } from './draw.ts'
import { splineDepth } from './frame-parts.ts'
import { bevelNm, standsOffNm, type FrameGeometry, type MitredFrame } from './mitred-frame.ts'

/** A field by itself, as seen from above and cut across; x is across. */
export interface FieldDrawing {
  readonly acrossNm: number
  readonly alongNm: number
  readonly thicknessNm: number
  /** From above, with the field's upper left corner at this point. */
  readonly plan: (x: number, y: number) => readonly Shape[]
  /** The cut through the middle, across; its upper left corner at this point, and how much the groove takes off each end. */
  readonly section: (x: number, y: number, grooveNm: number, tongueNm: number) => readonly Shape[]
  /** Dimensions within the field in the plan, from its upper left corner. */
  readonly dimensions: (x: number, y: number) => readonly Dimension[]
}

/** Plan and section of a field: bare, or in each frame of its set. @param frames empty: it has none */
export function fieldViews(
  field: FieldDrawing,
  frames: readonly (readonly [MitredFrame, FrameGeometry])[],
  facts: ShopFacts,
): DrawingView[] {
  if (frames.length === 0) return bareViews(field, facts)
  return frames.flatMap(([frame, geometry], index) =>
    framedViews(field, frame, geometry, facts).map((view) =>
      index === 0 ? view : { ...view, name: `${view.name}, frame ${index + 1}` },
    ),
  )
}

function bareViews(field: FieldDrawing, facts: ShopFacts): DrawingView[] {
  const { acrossNm, alongNm, thicknessNm } = field
  return [
    {
      name: 'Plan',
      widthNm: acrossNm,
      heightNm: alongNm,
      shapes: field.plan(0, 0),
      dimensions: [
        dimension('below', 1, 0, acrossNm, facts),
        dimension('left', 1, 0, alongNm, facts),
        ...field.dimensions(0, 0),
      ],
    },
    {
      name: 'Section across',
      widthNm: acrossNm,
      heightNm: thicknessNm,
      shapes: field.section(0, 0, 0, 0),
      dimensions: [dimension('right', 1, 0, thicknessNm, facts)],
    },
  ]
}

function framedViews(
  field: FieldDrawing,
  frame: MitredFrame,
  geometry: FrameGeometry,
  facts: ShopFacts,
): DrawingView[] {
  const { outsideAcrossNm: width, outsideAlongNm: height, gapLeftNm, gapAlongNm } = geometry
  const { faceNm } = frame
  const left = faceNm + gapLeftNm
  const top = faceNm + gapAlongNm
  return [
    {
      name: 'Plan',
      widthNm: width,
      heightNm: height,
      shapes: [
        ...members(frame, width, height),
        ...field.plan(left, top),
        ...(frame.splines ? splinesFromAbove(frame, width, height, facts) : []),
        ...grownIntoFrame(field, frame, geometry),
        ...beveledFromAbove(bevelNm(frame), width, height),
      ],
      dimensions: [
        dimension('below', 2, 0, width, facts),
        dimension('below', 1, left, left + field.acrossNm, facts, 'field'),
        dimension('left', 2, 0, height, facts),
        dimension('left', 1, top, top + field.alongNm, facts, 'field'),
        dimension('above', 2, 0, faceNm, facts, 'seen'),
        ...(frame.splines ? [dimension('above', 3, 0, splineDepth(faceNm, facts), facts, 'spline')] : []),
        ...field.dimensions(left, top),
      ],
    },
    framedSection(field, frame, geometry, facts),
  ]
}

/** Trapezoids whose short side is the opening and whose ends are the mitres. */
function members({ wood, faceNm }: MitredFrame, width: number, height: number): Shape[] {
  const corners: readonly Point[] = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ]
  const inner: readonly Point[] = [
    [faceNm, faceNm],
    [width - faceNm, faceNm],
    [width - faceNm, height - faceNm],
    [faceNm, height - faceNm],
  ]
  return corners.map((corner, index) => {
    const next = (index + 1) % 4
    return polygon([corner, corners[next] ?? corner, inner[next] ?? corner, inner[index] ?? corner], {
      wood,
      grain: index % 2 === 0 ? 'along-x' : 'along-y',
      name: 'Frame',
    })
  })
}

/** Keys across the corners, within the thickness: hidden from above. */
function splinesFromAbove({ faceNm }: MitredFrame, width: number, height: number, facts: ShopFacts): Shape[] {
  const deep = splineDepth(faceNm, facts)
  const across = (x: number, y: number, right: number, down: number): Shape => ({
    kind: 'outline',
    points: [
      [x, y],
      [x + right * deep, y],
      [x, y + down * deep],
    ],
    line: 'hidden',
    name: 'Spline',
  })
  return [across(0, 0, 1, 1), across(width, 0, -1, 1), across(width, height, -1, -1), across(0, height, 1, -1)]
}

/** Where the edges of a field would be in the damp season that is glued solid into its frame; nothing where it floats. */
function grownIntoFrame(
  field: FieldDrawing,
  { faceNm }: MitredFrame,
  { forcedAcrossNm, forcedAlongNm }: FrameGeometry,
) {
  if (forcedAcrossNm === 0 && forcedAlongNm === 0) return []
  const [over, up] = [Math.min(forcedAcrossNm, faceNm), Math.min(forcedAlongNm, faceNm)]
  return [
    outline(
      faceNm - over,
      faceNm - up,
      field.acrossNm + 2 * over,
      field.alongNm + 2 * up,
      'Field as it would grow, without room',
    ),
  ]
}

const beveledFromAbove = (bevel: number, width: number, height: number): Shape[] =>
  bevel === 0 ? [] : [outline(bevel, bevel, width - 2 * bevel, height - 2 * bevel, 'Bevel below')]

function framedSection(
  field: FieldDrawing,
  frame: MitredFrame,
  geometry: FrameGeometry,
  facts: ShopFacts,
): DrawingView {
  const { outsideAcrossNm: width, gapLeftNm, gapRightNm, grooveNm } = geometry
  const { thicknessNm: thick } = field
  const [below, bevel] = [thick + standsOffNm(frame), bevelNm(frame)]
  const tongue = Math.round(thick / 3)
  const upper = Math.round((thick - tongue) / 2)
  const lower = upper + tongue
  const { faceNm, tongueNm } = frame
  const forced = Math.min(geometry.forcedAcrossNm, faceNm)
  const member = (x: (fromOutside: number) => number): Shape =>
    polygon(
      [
        [x(0), 0],
        [x(faceNm), 0],
        [x(faceNm), upper],
        [x(faceNm + tongueNm), upper],
        [x(faceNm + tongueNm), lower],
        [x(faceNm), lower],
        [x(faceNm), below],
        [x(bevel), below],
        ...(bevel === 0 ? [] : [[x(0), below - bevel] as const]),
      ],
      { wood: frame.wood, grain: 'end', name: 'Frame member with its tongue' },
    )
  return {
    name: 'Section across',
    widthNm: width,
    heightNm: below,
    shapes: [
      ...field.section(faceNm + gapLeftNm, 0, grooveNm, tongue),
      member((fromOutside) => fromOutside),
      member((fromOutside) => width - fromOutside),
    ],
    dimensions: [
      dimension('right', 1, 0, thick, facts),
      dimension('below', 1, 0, faceNm, facts, 'seen'),
      dimension('below', 2, 0, faceNm + tongueNm, facts, 'cut'),
      ...(below === thick ? [] : [dimension('right', 3, thick, below, facts, 'off the table')]),
      ...(bevel === 0 ? [] : [dimension('right', 3, below - bevel, below, facts, 'bevel')]),
      ...(gapRightNm === 0 ? [] : [dimension('above', 1, width - faceNm - gapRightNm, width - faceNm, facts, 'gap')]),
      ...(forced === 0 ? [] : [dimension('above', 1, faceNm - forced, faceNm, facts, 'to grow, and no room')]),
    ],
  }
}

/** The openings of the grooves in both edges of a field that is cut across; nothing where it has none. */
export function groovesAcross(
  x: number,
  y: number,
  widthNm: number,
  thicknessNm: number,
  grooveNm: number,
  tongueNm: number,
): Shape[] {
  if (grooveNm === 0) return []
  const upper = y + Math.round((thicknessNm - tongueNm) / 2)
  const look = { wood: null, grain: 'none', name: 'Groove' } as const
  return [
    rectangle(x, upper, grooveNm, tongueNm, look),
    rectangle(x + widthNm - grooveNm, upper, grooveNm, tongueNm, look),
  ]
}
