import type { GrainCut } from '../../wood/movement.ts'
import type { BoardOptions } from '../design/board-options.ts'
import type { Decoration } from '../design/decoration.ts'
import type { GlueAndFinish } from '../design/finish-fields.ts'

/** Strips or staves glued side by side: edge grain up for boards that are cut on, faces up for slabs, tops and trays. */
export interface EdgeGrainSpec extends GlueAndFinish, BoardOptions, Decoration {
  readonly lay: 'edge-up' | 'face-up'
  /** Along the grain, breadboard ends included; across it. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
  /** Woods of the staves in turn. */
  readonly woods: readonly string[]
  /** No stave is seen wider than this. */
  readonly staveNm: number
  /** How the boards were sawn, before they are turned on edge. */
  readonly cut: GrainCut
  readonly breadboard: BreadboardEnds | null
  /** Touches food. */
  readonly food: boolean
}

/** An end across each end of the slab keeps it flat and lets it move: glued at the middle only, fastened so that it may slide towards the edges. */
export interface BreadboardEnds {
  readonly wood: string
  /** Width that is seen, along the length of the slab. */
  readonly widthNm: number
  /** How far the slab's tongue reaches into it. */
  readonly tongueNm: number
  /** Absent: pegs. */
  readonly fastening?: BreadboardFastening
}

/**
 * What lets the slab move in its ends, glued at the middle in each case. `pegs`: through end and tongue, the slots in the tongue.
 * `screws`: through the end into the slab, the slots in the end. `dovetail`: the end slides on. `glue`: nothing else, for narrow slabs.
 */
export type BreadboardFastening = 'pegs' | 'screws' | 'dovetail' | 'glue'
