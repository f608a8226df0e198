import { dimension, line, rectangle } from '../design/draw.ts'
import { fieldViews } from '../design/frame-drawing.ts'
import { staveField, stavesAcross } from '../design/stave-drawing.ts'
import type { Drawing, DrawingView, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { edgeGrainGeometry, type EdgeGrainGeometry } from './edge-grain-geometry.ts'
import type { BreadboardEnds, EdgeGrainSpec } from './edge-grain-spec.ts'

/** Staves from above and cut across; with breadboard ends also how far their tongues reach in. */
export function drawEdgeGrain(spec: EdgeGrainSpec, facts: ShopFacts): Drawing {
  const geometry = edgeGrainGeometry(spec, facts.allowances)
  const [plan, section] = fieldViews(staveField(geometry.panel, geometry, facts), null, facts)
  if (spec.breadboard === null || section === undefined)
    return { views: plan === undefined || section === undefined ? [] : [plan, section] }
  return { views: [withEnds(spec, spec.breadboard, geometry, facts), section] }
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
    ],
    dimensions: [
      dimension('below', 1, 0, widthNm, facts),
      dimension('left', 2, 0, lengthNm, facts),
      dimension('left', 1, 0, ends.widthNm, facts, 'end'),
      dimension('right', 1, ends.widthNm - ends.tongueNm, ends.widthNm, facts, 'tongue'),
    ],
  }
}
