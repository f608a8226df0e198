import type { GrainCut } from '../../wood/movement.ts'
import type { Decoration } from '../design/decoration.ts'
import type { GlueAndFinish } from '../design/finish-fields.ts'

/** Four sides, a solid bottom that floats in a groove, and a lid if wanted. */
export interface BoxSpec extends GlueAndFinish, Decoration {
  /** Outside; length is along the grain of bottom and lid. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly heightNm: number
  readonly wood: string
  readonly sideNm: number
  readonly corners: 'mitred' | 'rebated'
  /** Keys across each mitred corner; 0: none. */
  readonly splines: number
  /** Of the keys; absent: that of the box. */
  readonly splineWood?: string
  readonly bottomNm: number
  /** In a groove all round, held at its middle; or slid in from behind like a drawer bottom and fixed at its front. */
  readonly bottomFit: 'groove' | 'drawer'
  readonly lid: 'none' | 'loose' | 'hinged'
  readonly lidWood: string
  readonly lidNm: number
  /** Bottom and lid are glued up of staves no wider than this. */
  readonly staveNm: number
  /** How the boards of bottom and lid were sawn; absent in orders of before that was asked: not known. */
  readonly cut?: GrainCut
  readonly food: boolean
  /** Absent: none. */
  readonly handles?: 'cut-out' | 'screwed-on'
  /** Of a drawer: a front that is screwed to it; absent: its foremost side is the front. */
  readonly front?: DrawerFront
}

export interface DrawerFront {
  readonly wood: string
  readonly thicknessNm: number
  /** How far it stands out past the drawer on every side. */
  readonly overNm: number
}
