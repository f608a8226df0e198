import { writeLength } from '../../lengths/write-length.ts'
import type { Part } from '../construction.ts'
import { dimension, rectangle } from '../design/draw.ts'
import type { Drawing } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** Each kind of part lying flat, finished, in one scale. How they go together is not known, so it is not drawn. */
export function drawParts(parts: readonly Part[], facts: ShopFacts): Drawing | null {
  if (parts.length === 0) return null
  return {
    views: parts.slice(0, MOST_VIEWS).map(({ name, wood, quantity, finished }) => {
      const { lengthNm, widthNm, thicknessNm } = finished
      return {
        name: `Part: ${quantity === 1 ? '' : `${quantity} × `}${name}, ${writeLength(thicknessNm, facts.units)} thick`,
        widthNm: lengthNm,
        heightNm: widthNm,
        shapes: [rectangle(0, 0, lengthNm, widthNm, { wood, grain: 'along-x', name })],
        dimensions: [dimension('below', 1, 0, lengthNm, facts), dimension('left', 1, 0, widthNm, facts)],
      }
    }),
  }
}

/** More would be small print. */
const MOST_VIEWS = 8
