import { inches } from '../../lengths/length.ts'
import { dimension, line, outline, rectangle } from '../design/draw.ts'
import type { Drawing, DrawingView, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { boxExtraViews } from './box-extras.ts'
import { boxGeometry, type BoxGeometry } from './box-geometry.ts'
import type { BoxSpec } from './box-spec.ts'

/** From above without the lid, and cut across its width through bottom and lid. */
export function drawBox(spec: BoxSpec, facts: ShopFacts): Drawing {
  const geometry = boxGeometry(spec, facts)
  return {
    views: [
      plan(spec, geometry, facts),
      section(spec, geometry, facts),
      ...(spec.splines > 0 ? [end(spec, facts)] : []),
      ...boxExtraViews(spec, facts),
    ],
  }
}

function plan(spec: BoxSpec, { grooveNm, bottom }: BoxGeometry, facts: ShopFacts): DrawingView {
  const { lengthNm: length, widthNm: width, sideNm: side, wood } = spec
  const look = (grain: 'along-x' | 'along-y') => ({ wood, grain, name: 'Side' }) as const
  const shoulder = side - grooveNm
  const mitred = spec.corners === 'mitred'
  const corner = (x: number, y: number, right: 1 | -1, down: 1 | -1): Shape =>
    mitred
      ? line([x, y], [x + right * side, y + down * side])
      : line([x + right * side, y + down * shoulder], [x, y + down * shoulder])
  return {
    name: 'Plan',
    widthNm: length,
    heightNm: width,
    shapes: [
      rectangle(side, side, length - 2 * side, width - 2 * side, {
        wood: bottom.woods[0] ?? wood,
        grain: 'along-x',
        name: 'Bottom',
      }),
      rectangle(0, 0, side, width, look('along-y')),
      rectangle(length - side, 0, side, width, look('along-y')),
      rectangle(0, 0, length, side, look('along-x')),
      rectangle(0, width - side, length, side, look('along-x')),
      corner(0, 0, 1, 1),
      corner(length, 0, -1, 1),
      corner(length, width, -1, -1),
      corner(0, width, 1, -1),
      ...(spec.lid === 'hinged' ? hinges(spec) : []),
    ],
    dimensions: [
      dimension('below', 2, 0, length, facts),
      dimension('below', 1, side, length - side, facts, 'inside'),
      dimension('left', 2, 0, width, facts),
      dimension('left', 1, side, width - side, facts, 'inside'),
    ],
  }
}

/** Leaves let into the back, a quarter of the length in from either end. */
function hinges({ lengthNm, sideNm }: BoxSpec): Shape[] {
  const wide = Math.min(inches(1), Math.round(lengthNm / 6))
  return [0.25, 0.75].map((share) =>
    outline(Math.round(lengthNm * share - wide / 2), 0, wide, Math.round(sideNm / 2), 'Hinge', 'seen'),
  )
}

function section(spec: BoxSpec, geometry: BoxGeometry, facts: ShopFacts): DrawingView {
  const { widthNm: width, heightNm: height, sideNm: side, bottomNm, wood } = spec
  const { grooveNm, clearanceNm, backHeightNm, bottom, lid } = geometry
  const top = lid === null ? 0 : spec.lidNm
  const bottomTop = top + height - 2 * bottomNm
  // Tight at the front of a drawer, in the middle of the grooves of a box.
  const bottomFrom = backHeightNm === null ? Math.round((width - bottom.widthNm) / 2) : side - grooveNm
  const grows =
    backHeightNm === null
      ? dimension('above', 1, side - grooveNm, bottomFrom, facts, 'to grow')
      : dimension('above', 1, width - clearanceNm, width, facts, 'to grow')
  const opening = { wood: null, grain: 'none', name: 'Groove' } as const
  const sideLook = { wood, grain: 'end', name: 'Side' } as const
  return {
    name: 'Section across',
    widthNm: width,
    heightNm: top + height,
    shapes: [
      ...(lid === null ? [] : [rectangle(0, 0, width, top, { wood: spec.lidWood, grain: 'end', name: 'Lid' })]),
      rectangle(0, top, side, height, sideLook),
      rectangle(width - side, top, side, backHeightNm ?? height, {
        ...sideLook,
        name: backHeightNm === null ? 'Side' : 'Back',
      }),
      rectangle(side - grooveNm, bottomTop, grooveNm, bottomNm, opening),
      ...(backHeightNm === null ? [rectangle(width - side, bottomTop, grooveNm, bottomNm, opening)] : []),
      rectangle(bottomFrom, bottomTop, bottom.widthNm, bottomNm, {
        wood,
        grain: 'end',
        name: 'Bottom',
      }),
    ],
    dimensions: [
      dimension('left', 1, top, top + height, facts),
      ...(lid === null ? [] : [dimension('left', 1, 0, top, facts, 'lid')]),
      dimension('right', 1, bottomTop, bottomTop + bottomNm, facts, 'bottom'),
      dimension('below', 1, 0, side, facts, 'side'),
      dimension('below', 2, side - grooveNm, side, facts, 'groove'),
      grows,
    ],
  }
}

/** Splines as they show at a corner, evenly up its height. */
function end(
  { widthNm: width, heightNm: height, sideNm, splines, wood, splineWood }: BoxSpec,
  facts: ShopFacts,
): DrawingView {
  const keys = Array.from({ length: splines }, (_, index) => Math.round((height * (index + 1)) / (splines + 1)))
  const thick = Math.min(facts.allowances.sawKerfNm, Math.floor(height / (2 * (splines + 1))))
  const key = (x: number, y: number): Shape =>
    rectangle(x, y - Math.round(thick / 2), sideNm, thick, {
      wood: splineWood ?? wood,
      grain: 'along-x',
      name: 'Spline',
    })
  return {
    name: 'End',
    widthNm: width,
    heightNm: height,
    shapes: [
      rectangle(0, 0, width, height, { wood, grain: 'along-x', name: 'Short side' }),
      ...keys.flatMap((y): Shape[] => [key(0, y), key(width - sideNm, y)]),
    ],
    dimensions: [
      dimension('below', 1, 0, width, facts),
      dimension('left', 1, 0, height, facts),
      dimension('right', 1, 0, keys[0] ?? height, facts, 'to a spline'),
    ],
  }
}
