/**
 * A drawing to scale as plain data, for the screen and for print: nanometres, x to the right and y down from the upper left corner
 * of each view. Shapes lie within the view's width and height; dimensions are drawn outside of it.
 */
export interface Drawing {
  readonly views: readonly DrawingView[]
}

export interface DrawingView {
  /** `Plan`, `Section across`, `Front`. */
  readonly name: string
  readonly widthNm: number
  readonly heightNm: number
  /** From back to front. */
  readonly shapes: readonly Shape[]
  readonly dimensions: readonly Dimension[]
}

export type Point = readonly [x: number, y: number]

export type Shape =
  | {
      readonly kind: 'polygon'
      readonly points: readonly Point[]
      /** Almanac wood id; null: an opening, or something that is not wood. */
      readonly wood: string | null
      /** How the grain lies in this view; 'end': one looks onto end grain. */
      readonly grain: 'along-x' | 'along-y' | 'end' | 'none'
      /** What it is, for people who cannot see it. */
      readonly name: string
    }
  /** The edges of something without its surface: hidden behind a face, or worked into it. */
  | {
      readonly kind: 'outline'
      readonly points: readonly Point[]
      readonly line: 'seen' | 'hidden'
      readonly name: string
    }
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point; readonly line: 'seen' | 'hidden' | 'centre' }

/** A measured distance along one side of the view; the outermost have the highest tier, from 1. */
export interface Dimension {
  readonly side: 'above' | 'below' | 'left' | 'right'
  readonly tier: number
  /** Along x for above and below, along y for left and right. */
  readonly fromNm: number
  readonly toNm: number
  /** The size in the maker's units, with what it is where the place does not say it. */
  readonly text: string
}
