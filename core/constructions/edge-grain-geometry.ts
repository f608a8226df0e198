import { inches } from '../lengths/length.ts'
import type { EdgeGrainSpec } from './edge-grain-board.ts'
import type { Allowances } from './shop-facts.ts'

/** The sizes of a board or slab of staves. Whole nanometres. */
export interface EdgeGrainGeometry {
  /** From one edge to the other, each as wide as it is seen; together exactly the width. */
  readonly staves: readonly { readonly wood: string; readonly seenNm: number }[]
  /** Width and thickness to which staves are cut before the glue-up. */
  readonly staveRoughNm: number
  readonly thicknessRoughNm: number
  /** Length of the staves when finished, tongues for breadboard ends included, and as cut. */
  readonly centreNm: number
  readonly centreRoughNm: number
  /** Of a breadboard end, as cut: it is trimmed flush with the slab after it is fixed. */
  readonly endRoughNm: number
}

/** Less than that between two breadboard ends is no slab. */
export const leastCentreNm = inches(2)

export function edgeGrainGeometry(spec: EdgeGrainSpec, allowances: Allowances): EdgeGrainGeometry {
  const count = Math.max(1, Math.ceil(spec.widthNm / spec.staveNm))
  const edge = (index: number): number => Math.round((spec.widthNm * index) / count)
  const staves = Array.from({ length: count }, (_, index) => ({
    wood: spec.woods[index % spec.woods.length] ?? '',
    seenNm: edge(index + 1) - edge(index),
  }))
  const { breadboard } = spec
  const centreNm = breadboard === null ? spec.lengthNm : spec.lengthNm - 2 * (breadboard.widthNm - breadboard.tongueNm)
  return {
    staves,
    staveRoughNm: Math.max(...staves.map((stave) => stave.seenNm)) + allowances.jointEdgeNm,
    thicknessRoughNm: spec.thicknessNm + allowances.flattenPanelNm,
    centreNm,
    centreRoughNm: Math.max(centreNm + 2 * allowances.squareEndNm, allowances.shortestPlanedNm),
    endRoughNm: Math.max(spec.widthNm + 2 * allowances.squareEndNm, allowances.shortestPlanedNm),
  }
}
