import { inches } from '../../lengths/length.ts'
import { dimension, outline, rectangle } from '../design/draw.ts'
import { stavesAcross } from '../design/stave-drawing.ts'
import type { Drawing, DrawingView, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { buttonOf, tableGeometry, type TableGeometry } from './small-table-geometry.ts'
import type { SmallTableSpec } from './small-table-spec.ts'

/** The top from above with legs and aprons under it, and the table from its long side and from its end. */
export function drawTable(spec: SmallTableSpec, facts: ShopFacts): Drawing {
  const geometry = tableGeometry(spec, facts)
  return {
    views: [plan(spec, geometry, facts), side(spec, geometry, facts), sectionAcross(spec, geometry, facts)],
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
    outline(left, top, leg, leg, 'Leg'),
    outline(right, top, leg, leg, 'Leg'),
    outline(left, bottom, leg, leg, 'Leg'),
    outline(right, bottom, leg, leg, 'Leg'),
    outline(left + apronIn, top + leg, apronNm, longApronNm, 'Apron'),
    outline(right + apronIn, top + leg, apronNm, longApronNm, 'Apron'),
    outline(left + leg, top + apronIn, shortApronNm, apronNm, 'Apron'),
    outline(left + leg, bottom + apronIn, shortApronNm, apronNm, 'Apron'),
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

/** From its long side. */
function side(spec: SmallTableSpec, { longApronNm }: TableGeometry, facts: ShopFacts): DrawingView {
  const { lengthNm, heightNm, topNm, overhangNm: over, legNm: leg, apronHeightNm, wood, baseWood } = spec
  const legLook = { wood: baseWood, grain: 'along-y', name: 'Leg' } as const
  return {
    name: 'Side',
    widthNm: lengthNm,
    heightNm,
    shapes: [
      rectangle(over + leg, topNm, longApronNm, apronHeightNm, { wood: baseWood, grain: 'along-x', name: 'Apron' }),
      rectangle(over, topNm, leg, heightNm - topNm, legLook),
      rectangle(lengthNm - over - leg, topNm, leg, heightNm - topNm, legLook),
      rectangle(0, 0, lengthNm, topNm, { wood, grain: 'along-x', name: 'Top' }),
    ],
    dimensions: [
      dimension('below', 2, 0, lengthNm, facts),
      dimension('below', 1, over + leg, over + leg + longApronNm, facts, 'between legs'),
      dimension('left', 1, 0, heightNm, facts),
      dimension('right', 1, 0, topNm, facts, 'top'),
      dimension('right', 1, topNm, topNm + apronHeightNm, facts, 'apron'),
    ],
  }
}

/** Cut across the middle, towards an end: the long aprons with what holds the top to them, legs and short apron behind. */
function sectionAcross(spec: SmallTableSpec, geometry: TableGeometry, facts: ShopFacts): DrawingView {
  const { widthNm, heightNm, topNm, overhangNm: over, legNm: leg, apronNm, apronHeightNm, wood, baseWood } = spec
  const { shortApronNm, tenonNm } = geometry
  const apronIn = over + Math.round((leg - apronNm) / 2)
  const legLook = { wood: baseWood, grain: 'along-y', name: 'Leg' } as const
  const cut = { wood: baseWood, grain: 'end', name: 'Long apron, cut' } as const
  return {
    name: 'Section across',
    widthNm,
    heightNm,
    shapes: [
      rectangle(over, topNm, leg, heightNm - topNm, legLook),
      rectangle(widthNm - over - leg, topNm, leg, heightNm - topNm, legLook),
      rectangle(over + leg, topNm, shortApronNm, apronHeightNm, { wood: baseWood, grain: 'along-x', name: 'Apron' }),
      outline(over + leg - tenonNm, topNm, tenonNm, apronHeightNm, 'Tenon'),
      outline(widthNm - over - leg, topNm, tenonNm, apronHeightNm, 'Tenon'),
      rectangle(apronIn, topNm, apronNm, apronHeightNm, cut),
      rectangle(widthNm - apronIn - apronNm, topNm, apronNm, apronHeightNm, cut),
      ...fasteners(spec, apronIn, facts),
      rectangle(0, 0, widthNm, topNm, { wood, grain: 'end', name: 'Top' }),
    ],
    dimensions: [
      dimension('below', 2, 0, widthNm, facts),
      dimension('below', 1, over + leg, over + leg + shortApronNm, facts, 'between legs'),
      dimension('above', 1, over + leg - tenonNm, over + leg, facts, 'tenon'),
    ],
  }
}

/** A button with its tongue in the groove of the apron, or a figure-eight on top of it, at either side. */
function fasteners(
  { fasteners: kind, widthNm, topNm, apronNm, apronHeightNm, baseWood }: SmallTableSpec,
  apronIn: number,
  facts: ShopFacts,
): Shape[] {
  const inside = [apronIn + apronNm, widthNm - apronIn - apronNm] as const
  if (kind === 'figure-eights') {
    const wide = Math.min(inches(5 / 4), 2 * apronNm)
    const high = Math.min(inches(1 / 8), apronHeightNm)
    return inside.map((x) => outline(x - Math.round(wide / 2), topNm, wide, high, 'Figure-eight', 'seen'))
  }
  const { lengthNm, thicknessNm, tongueNm } = buttonOf(facts)
  const tongue = Math.min(tongueNm, Math.round(apronNm / 2))
  const long = Math.min(lengthNm, Math.floor((inside[1] - inside[0]) / 2))
  const high = Math.min(thicknessNm, apronHeightNm)
  const look = { wood: baseWood, grain: 'along-x', name: 'Button' } as const
  const third = Math.round(high / 3)
  return long <= tongue
    ? []
    : [
        ...inside.map((x, right) => rectangle(right === 0 ? x : x - long + tongue, topNm, long - tongue, high, look)),
        ...inside.map((x, right) => rectangle(right === 0 ? x - tongue : x, topNm + high - third, tongue, third, look)),
      ]
}
