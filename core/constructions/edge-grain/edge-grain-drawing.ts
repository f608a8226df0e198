import { withBoardOptions } from '../design/board-options.ts'
import { cutAcross } from '../design/cut-field.ts'
import { dimension, line, outline, rectangle } from '../design/draw.ts'
import { fieldViews } from '../design/frame-drawing.ts'
import { staveField, stavesAcross } from '../design/stave-drawing.ts'
import type { Drawing, DrawingView, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { pegsAcross } from './breadboard-facts.ts'
import { edgeGrainSizeOf, edgeGrainGeometry, type EdgeGrainGeometry } from './edge-grain-geometry.ts'
import type { BreadboardEnds, EdgeGrainSpec } from './edge-grain-spec.ts'

/** Staves from above and cut across; with breadboard ends also their tongues, pegs and slots, and the cut along the slab. */
export function drawEdgeGrain(spec: EdgeGrainSpec, facts: ShopFacts): Drawing {
  const geometry = edgeGrainGeometry(spec, facts.allowances)
  const [plan, section] = fieldViews(staveField(geometry.panel, geometry, facts), [], facts)
  if (plan === undefined || section === undefined) return { views: [] }
  const { breadboard } = spec
  const views =
    breadboard === null
      ? [plan, section]
      : [withEnds(spec, breadboard, geometry, facts), section, sectionAlong(spec, breadboard, geometry, facts)]
  return { views: withBoardOptions(views, spec, edgeGrainSizeOf(spec, facts), facts) }
}

function withEnds(
  spec: EdgeGrainSpec,
  ends: BreadboardEnds,
  geometry: EdgeGrainGeometry,
  facts: ShopFacts,
): DrawingView {
  const { lengthNm, widthNm } = spec
  const end = (y: number): Shape =>
    rectangle(0, y, widthNm, ends.widthNm, { wood: ends.wood, grain: 'along-x', name: 'Breadboard end' })
  const tongueAt = (y: number): Shape => line([0, y], [widthNm, y], 'hidden')
  const shares = geometry.staves.map(({ wood, seenNm }) => ({ wood, size: seenNm }))
  const across = pegsAcross(spec, shares, facts, cutAcross(spec.cut, spec.lay))
  const half = Math.round(ends.tongueNm / 4)
  const pegs = [ends.widthNm - 3 * half, lengthNm - ends.widthNm + half].flatMap((y) =>
    across.map(({ fromNm, toNm, name }) =>
      outline(fromNm, y, toNm - fromNm, 2 * half, name, name.startsWith('Slot') ? 'hidden' : 'seen'),
    ),
  )
  const [slot] = across.filter(({ name }) => name.startsWith('Slot'))
  return {
    name: 'Plan',
    widthNm,
    heightNm: lengthNm,
    shapes: [
      ...stavesAcross(geometry, 0, ends.widthNm, lengthNm - 2 * ends.widthNm, 'along-y'),
      end(0),
      end(lengthNm - ends.widthNm),
      tongueAt(ends.widthNm - ends.tongueNm),
      tongueAt(lengthNm - ends.widthNm + ends.tongueNm),
      ...pegs,
    ],
    dimensions: [
      dimension('below', 1, 0, widthNm, facts),
      dimension('left', 2, 0, lengthNm, facts),
      dimension('left', 1, 0, ends.widthNm, facts, 'end'),
      dimension('right', 2, ends.widthNm - ends.tongueNm, ends.widthNm, facts, 'tongue'),
      ...(slot === undefined ? [] : [dimension('above', 1, slot.fromNm, slot.toNm, facts, 'slot')]),
    ],
  }
}

/** Cut along the grain of the slab: its tongue in the groove of each end. */
function sectionAlong(
  { lengthNm, thicknessNm }: EdgeGrainSpec,
  ends: BreadboardEnds,
  { staves }: EdgeGrainGeometry,
  facts: ShopFacts,
): DrawingView {
  const third = Math.round(thicknessNm / 3)
  const upper = Math.round((thicknessNm - third) / 2)
  const wood = staves[Math.floor(staves.length / 2)]?.wood ?? ''
  const inner = ends.widthNm - ends.tongueNm
  const end = (x: number): Shape =>
    rectangle(x, 0, ends.widthNm, thicknessNm, { wood: ends.wood, grain: 'end', name: 'Breadboard end' })
  const slab = { wood, grain: 'along-x', name: 'Slab with its tongues' } as const
  return {
    name: 'Section along',
    widthNm: lengthNm,
    heightNm: thicknessNm,
    shapes: [
      end(0),
      end(lengthNm - ends.widthNm),
      rectangle(inner, upper, lengthNm - 2 * inner, third, slab),
      rectangle(ends.widthNm, 0, lengthNm - 2 * ends.widthNm, thicknessNm, slab),
    ],
    dimensions: [
      dimension('below', 1, inner, ends.widthNm, facts, 'tongue'),
      dimension('right', 1, upper, upper + third, facts, 'tongue'),
    ],
  }
}
