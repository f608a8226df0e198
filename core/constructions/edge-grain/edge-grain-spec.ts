/** Strips or staves glued side by side: edge grain up for boards that are cut on, faces up for slabs, tops and trays. */
export interface EdgeGrainSpec {
  readonly lay: 'edge-up' | 'face-up'
  /** Along the grain, breadboard ends included; across it. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
  /** Woods of the staves in turn. */
  readonly woods: readonly string[]
  /** No stave is seen wider than this. */
  readonly staveNm: number
  readonly breadboard: BreadboardEnds | null
  /** Cut on or eaten from. */
  readonly food: boolean
  readonly juiceGroove: boolean
  readonly fingerGrips: boolean
  readonly feet: boolean
  readonly glue: string
  readonly finish: string
  readonly coats: number | null
}

/** An end across each end of the slab keeps it flat and lets it move: glued at the middle only, pinned in slots towards the edges. */
export interface BreadboardEnds {
  readonly wood: string
  /** Width that is seen, along the length of the slab. */
  readonly widthNm: number
  /** How far the slab's tongue reaches into it. */
  readonly tongueNm: number
}
