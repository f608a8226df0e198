import type { Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { dimension, rectangle } from './draw.ts'
import { groovesAcross, type FieldDrawing } from './frame-drawing.ts'
import type { StaveGeometry, StavePanel } from './staves.ts'

/** Staves that run from top to bottom of the plan, side by side across it. */
export function staveField(panel: StavePanel, geometry: StaveGeometry, facts: ShopFacts): FieldDrawing {
  const { lengthNm, widthNm, thicknessNm } = panel
  const first = geometry.staves[0]?.seenNm ?? 0
  return {
    acrossNm: widthNm,
    alongNm: lengthNm,
    thicknessNm,
    plan: (x, y) => stavesAcross(geometry, x, y, lengthNm, 'along-y'),
    section: (x, y, grooveNm, tongueNm) => [
      ...stavesAcross(geometry, x, y, thicknessNm, 'end'),
      ...groovesAcross(x, y, widthNm, thicknessNm, grooveNm, tongueNm),
    ],
    dimensions: (x) => (geometry.staves.length < 2 ? [] : [dimension('above', 1, x, x + first, facts, 'stave')]),
  }
}

export function stavesAcross(
  geometry: StaveGeometry,
  x: number,
  y: number,
  heightNm: number,
  grain: 'along-y' | 'end',
): Shape[] {
  let left = x
  return geometry.staves.map(({ wood, seenNm }) => {
    const shape = rectangle(left, y, seenNm, heightNm, { wood, grain, name: 'Stave' })
    left += seenNm
    return shape
  })
}
