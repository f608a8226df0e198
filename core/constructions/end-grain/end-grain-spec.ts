import type { BoardOptions } from '../design/board-options.ts'
import type { Decoration } from '../design/decoration.ts'
import type { GlueAndFinish } from '../design/finish-fields.ts'
import type { OtherFrame } from '../design/frame-set.ts'
import type { MitredFrame } from '../design/mitred-frame.ts'

export interface EndGrainSpec extends GlueAndFinish, BoardOptions, Decoration {
  readonly cellsAcross: number
  readonly cellsAlong: number
  readonly cellNm: number
  readonly thicknessNm: number
  readonly pattern: EndGrainPattern
  readonly frame: MitredFrame | null
  /** With a frame: so many more of the same board in frames of their own, out of the same panels. */
  readonly otherFrames?: readonly OtherFrame[]
  /** Touches food. */
  readonly food: boolean
}

export type EndGrainPattern =
  | { readonly kind: 'chequer'; readonly woods: readonly [string, string] }
  | { readonly kind: 'stripes'; readonly woods: readonly [string, string] }
  /** Rows of wood ids, repeated along the board; a row's cells are repeated across it. */
  | { readonly kind: 'rows'; readonly rows: readonly (readonly string[])[] }
