import type { GrainCut } from '../../wood/movement.ts'
import type { Decoration } from '../design/decoration.ts'
import type { GlueAndFinish } from '../design/finish-fields.ts'

/** An edge-glued top on four legs and an apron, held by fasteners that let it move. */
export interface SmallTableSpec extends GlueAndFinish, Decoration {
  readonly what: 'table' | 'bench'
  /** Of the top, along its grain and across it; the height is to its upper face. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly heightNm: number
  readonly topNm: number
  readonly wood: string
  readonly staveNm: number
  /** How the boards of the top were sawn. */
  readonly cut: GrainCut
  readonly baseWood: string
  /** Legs are square. */
  readonly legNm: number
  readonly apronHeightNm: number
  readonly apronNm: number
  /** How far the top stands out beyond the legs on every side. */
  readonly overhangNm: number
  readonly fasteners: 'buttons' | 'figure-eights'
}
