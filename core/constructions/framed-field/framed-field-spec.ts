import type { GrainCut } from '../../wood/movement.ts'
import type { Decoration } from '../design/decoration.ts'
import type { GlueAndFinish } from '../design/finish-fields.ts'
import type { OtherFrame } from '../design/frame-set.ts'
import type { MitredFrame } from '../design/mitred-frame.ts'

/** A field in a mitered frame: of end-grain cells, or of staves (one of them is a solid board). */
export interface FramedFieldSpec extends GlueAndFinish, Decoration {
  readonly field: CellField | StaveField
  readonly thicknessNm: number
  readonly frame: MitredFrame
  /** Each piece is a set: this many more fields in frames of their own; absent: none. */
  readonly otherFrames?: readonly OtherFrame[]
  /** Touches food. */
  readonly food: boolean
}

export interface CellField {
  readonly kind: 'cells'
  readonly cellsAcross: number
  readonly cellsAlong: number
  readonly cellNm: number
  readonly woods: readonly [string, string]
}

export interface StaveField {
  readonly kind: 'staves'
  /** Along the grain and across it, as seen within the frame. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly wood: string
  readonly staveNm: number
  readonly cut: GrainCut
}
