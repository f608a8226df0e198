import { dimension, outline, rectangle } from '../design/draw.ts'
import { stavesAcross } from '../design/stave-drawing.ts'
import type { Drawing, DrawingView, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { tableGeometry, type TableGeometry } from './small-table-geometry.ts'
import type { SmallTableSpec } from './small-table-spec.ts'

/** The top from above with legs and aprons under it, and the table from its long side and from its end. */
export function drawTable(spec: SmallTableSpec, facts: ShopFacts): Drawing {
  const geometry = tableGeometry(spec, facts)
  return {
    views: [
      plan(spec, geometry, facts),
      elevation('Side', spec.lengthNm, geometry.longApronNm, spec, facts),
      elevation('End', spec.widthNm, geometry.shortApronNm, spec, facts),
    ],
  }
}

/** The long side of the top runs from top to bottom of the plan, as its grain does. */
function plan(
  spec: SmallTableSpec,
  { topStaves, longApronNm, shortApronNm }: TableGeometry,
  facts: ShopFacts,
): DrawingView {
  const { lengthNm: length, widthNm: width, overhangNm: over, legNm: leg, apronNm } = spec
  const [left, right, top, bottom] = [over, width - over - leg, over, length - over - leg]
  const apronIn = Math.round((leg - apronNm) / 2)
  const hidden: Shape[] = [
    ...outline(left, top, leg, leg),
    ...outline(right, top, leg, leg),
    ...outline(left, bottom, leg, leg),
    ...outline(right, bottom, leg, leg),
    ...outline(left + apronIn, top + leg, apronNm, longApronNm),
    ...outline(right + apronIn, top + leg, apronNm, longApronNm),
    ...outline(left + leg, top + apronIn, shortApronNm, apronNm),
    ...outline(left + leg, bottom + apronIn, shortApronNm, apronNm),
  ]
  return {
    name: 'Plan',
    widthNm: width,
    heightNm: length,
    shapes: [...stavesAcross(topStaves, 0, 0, length, 'along-y'), ...hidden],
    dimensions: [
      dimension('below', 1, 0, width, facts),
      dimension('left', 1, 0, length, facts),
      ...(over === 0 ? [] : [dimension('above', 1, 0, over, facts, 'over')]),
    ],
  }
}

function elevation(
  name: string,
  widthNm: number,
  apronNm: number,
  spec: SmallTableSpec,
  facts: ShopFacts,
): DrawingView {
  const { heightNm, topNm, overhangNm: over, legNm: leg, apronHeightNm, wood, baseWood } = spec
  const legLook = { wood: baseWood, grain: 'along-y', name: 'Leg' } as const
  return {
    name,
    widthNm,
    heightNm,
    shapes: [
      rectangle(over + leg, topNm, apronNm, apronHeightNm, { wood: baseWood, grain: 'along-x', name: 'Apron' }),
      rectangle(over, topNm, leg, heightNm - topNm, legLook),
      rectangle(widthNm - over - leg, topNm, leg, heightNm - topNm, legLook),
      rectangle(0, 0, widthNm, topNm, { wood, grain: name === 'Side' ? 'along-x' : 'end', name: 'Top' }),
    ],
    dimensions: [
      dimension('below', 2, 0, widthNm, facts),
      dimension('below', 1, over + leg, over + leg + apronNm, facts, 'between legs'),
      dimension('left', 1, 0, heightNm, facts),
      dimension('right', 1, 0, topNm, facts, 'top'),
      dimension('right', 1, topNm, topNm + apronHeightNm, facts, 'apron'),
    ],
  }
}
