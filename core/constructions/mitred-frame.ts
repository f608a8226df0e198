import type { Part } from './construction.ts'
import type { Allowances } from './shop-facts.ts'

/** A frame of four mitred members around a field; a tongue on the inside of each sits in a groove in the field's edge. */
export interface MitredFrame {
  readonly wood: string
  /** Width that is seen. */
  readonly faceNm: number
  /** Length of the tongue beyond the face. */
  readonly tongueNm: number
  /** Glued at the middle of each side only, so that the field may move; or all round, which holds for small or well-behaved fields at best. */
  readonly fixing: 'middle' | 'all-round'
}

export interface FrameGeometry {
  readonly outsideAcrossNm: number
  readonly outsideAlongNm: number
  /** Face and tongue together: the width to which the stock is cut. */
  readonly stockWidthNm: number
  /** Blanks as long as their outside edge plus trimming, two of each. */
  readonly blankAcrossNm: number
  readonly blankAlongNm: number
}

/** @source common practice, no source: a 3 1/2 in visible face and a 1/2 in tongue are cut 4 in wide */
export function frameGeometry(
  fieldAcrossNm: number,
  fieldAlongNm: number,
  frame: MitredFrame,
  { mitreTrimNm }: Allowances,
): FrameGeometry {
  const outsideAcrossNm = fieldAcrossNm + 2 * frame.faceNm
  const outsideAlongNm = fieldAlongNm + 2 * frame.faceNm
  return {
    outsideAcrossNm,
    outsideAlongNm,
    stockWidthNm: frame.faceNm + frame.tongueNm,
    blankAcrossNm: outsideAcrossNm + mitreTrimNm,
    blankAlongNm: outsideAlongNm + mitreTrimNm,
  }
}

export function frameParts(
  frame: MitredFrame,
  geometry: FrameGeometry,
  thicknessNm: number,
  pieces: number,
  { jointEdgeNm }: Allowances,
): Part[] {
  const member = (name: string, blankNm: number, outsideNm: number, quantity: number): Part => ({
    name,
    wood: frame.wood,
    quantity,
    rough: { lengthNm: blankNm, widthNm: geometry.stockWidthNm + jointEdgeNm, thicknessNm },
    finished: { lengthNm: outsideNm, widthNm: geometry.stockWidthNm, thicknessNm },
    note: 'Length is the outside edge, from mitre to mitre.',
  })
  const { blankAcrossNm, blankAlongNm, outsideAcrossNm, outsideAlongNm } = geometry
  if (outsideAcrossNm === outsideAlongNm) return [member('Frame member', blankAcrossNm, outsideAcrossNm, 4 * pieces)]
  return [
    member('Frame member, across', blankAcrossNm, outsideAcrossNm, 2 * pieces),
    member('Frame member, along', blankAlongNm, outsideAlongNm, 2 * pieces),
  ]
}
