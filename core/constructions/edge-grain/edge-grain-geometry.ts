import { inches } from '../../lengths/length.ts'
import type { BoardSize } from '../design/board-options.ts'
import type { EdgeGrainSpec } from './edge-grain-spec.ts'
import type { Allowances, ShopFacts } from '../shop-facts.ts'
import { staveGeometry, type StaveGeometry, type StavePanel } from '../design/staves.ts'

/** The sizes of a board or slab of staves. Whole nanometres. */
export interface EdgeGrainGeometry extends StaveGeometry {
  /** The staves as a panel by themselves: as long as the board, or less its breadboard ends and with the tongues into them. */
  readonly panel: StavePanel
  /** Of a breadboard end, as cut: it is trimmed flush with the slab after it is fixed. */
  readonly endRoughNm: number
}

/** Less than that between two breadboard ends is no slab. */
export const leastCentreNm = inches(2)

export function edgeGrainGeometry(spec: EdgeGrainSpec, allowances: Allowances): EdgeGrainGeometry {
  const { breadboard } = spec
  const lengthNm = breadboard === null ? spec.lengthNm : spec.lengthNm - 2 * (breadboard.widthNm - breadboard.tongueNm)
  const { widthNm, thicknessNm, woods, staveNm, lay } = spec
  const panel: StavePanel = { lengthNm, widthNm, thicknessNm, woods, staveNm, lay }
  return {
    ...staveGeometry(panel, allowances),
    panel,
    endRoughNm: Math.max(spec.widthNm + 2 * allowances.squareEndNm, allowances.shortestPlanedNm),
  }
}

/** The board as it leaves the shop, whole. */
export const edgeGrainSizeOf = (
  { widthNm, lengthNm, thicknessNm }: EdgeGrainSpec,
  { units }: Pick<ShopFacts, 'units'>,
): BoardSize => ({
  units,
  acrossNm: widthNm,
  alongNm: lengthNm,
  thicknessNm,
  standsOffNm: 0,
  frameAcrossNm: 0,
  frameAlongNm: 0,
})
