import { writeLength } from '../../lengths/write-length.ts'
import type { Dimension, Point, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'

type Polygon = Extract<Shape, { readonly kind: 'polygon' }>
type Look = Pick<Polygon, 'wood' | 'grain' | 'name'>

/** A rectangle by its upper left corner. */
export const rectangle = (x: number, y: number, width: number, height: number, look: Look): Shape => ({
  kind: 'polygon',
  points: corners(x, y, width, height),
  ...look,
})

export const polygon = (points: readonly Point[], look: Look): Shape => ({ kind: 'polygon', points, ...look })

export const line = (from: Point, to: Point, how: 'seen' | 'hidden' | 'centre' = 'seen'): Shape => ({
  kind: 'line',
  from,
  to,
  line: how,
})

/** The edges of a rectangle by its upper left corner: a groove, or what is hidden behind a face. */
export const outline = (
  x: number,
  y: number,
  width: number,
  height: number,
  name: string,
  how: 'seen' | 'hidden' = 'hidden',
): Shape => ({ kind: 'outline', points: corners(x, y, width, height), line: how, name })

const corners = (x: number, y: number, width: number, height: number): Point[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
]

/** A measured distance, written in the maker's units. */
export const dimension = (
  side: Dimension['side'],
  tier: number,
  fromNm: number,
  toNm: number,
  { units }: Pick<ShopFacts, 'units'>,
  what = '',
): Dimension => ({
  side,
  tier,
  fromNm,
  toNm,
  text: `${writeLength(Math.abs(toNm - fromNm), units)}${what === '' ? '' : ` ${what}`}`,
})
