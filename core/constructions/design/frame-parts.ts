import { writeLength } from '../../lengths/write-length.ts'
import type { Part } from '../construction.ts'
import { bevelNm, standsOffNm, type FrameGeometry, type MitredFrame } from './mitred-frame.ts'
import { usualSize } from './usual-size.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** What sizes of parts depend on. */
type PartsOf = Pick<ShopFacts, 'allowances' | 'units'>

/** Members with their mitres, and the splines across them. @param fieldNm thickness of the field */
export function frameParts(
  frame: MitredFrame,
  geometry: FrameGeometry,
  fieldNm: number,
  pieces: number,
  facts: PartsOf,
): Part[] {
  const { allowances } = facts
  const say = (nm: number): string => writeLength(nm, facts.units)
  const thicknessNm = fieldNm + standsOffNm(frame)
  const cutOffBelow = bevelNm(frame) ** 2 / (2 * frame.faceNm * thicknessNm)
  const thick = standsOffNm(frame) === 0 ? 'thickness as it is' : `${say(standsOffNm(frame))} thicker than the field`
  const member = (name: string, blankNm: number, outsideNm: number, quantity: number): Part => ({
    name,
    wood: frame.wood,
    quantity,
    rough: { lengthNm: blankNm, widthNm: geometry.stockWidthNm + allowances.jointEdgeNm, thicknessNm },
    finished: { lengthNm: outsideNm, widthNm: geometry.stockWidthNm, thicknessNm },
    // A trapezoid; the tongue fills the groove in the field.
    solidShare: (((outsideNm - frame.faceNm) * frame.faceNm) / (outsideNm * geometry.stockWidthNm)) * (1 - cutOffBelow),
    note: 'Length is the outside edge, from miter to miter.',
    why: `Outside edge ${say(outsideNm)} and ${say(allowances.mitreTrimNm)} for trimming the miters; ${say(frame.faceNm)} seen, ${say(frame.tongueNm)} tongue and ${say(allowances.jointEdgeNm)} for the edge; ${thick}.`,
    milledIn: 'mill-frame',
  })
  const { blankAcrossNm, blankAlongNm, outsideAcrossNm, outsideAlongNm } = geometry
  const members =
    outsideAcrossNm === outsideAlongNm
      ? [member('Frame member', blankAcrossNm, outsideAcrossNm, 4 * pieces)]
      : [
          member('Frame member, across', blankAcrossNm, outsideAcrossNm, 2 * pieces),
          member('Frame member, along', blankAlongNm, outsideAlongNm, 2 * pieces),
        ]
  return frame.splines
    ? [...members, splinePart(frame.splineWood ?? frame.wood, frame.faceNm, 4 * pieces, facts, 'mill-frame')]
    : members
}

export const isFramePart = ({ name }: Part): boolean => name.startsWith('Frame') || name === SPLINE

export const SPLINE = 'Spline'

/** How far a key reaches in from the corner along either side. */
export const splineDepth = (faceNm: number, facts: Pick<ShopFacts, 'units'>): number =>
  Math.min(Math.round(faceNm / 2), usualSize(facts, 1, 25))

/**
 * A key across a mitre: as deep as half the face but no more than an inch, its grain across the joint, as thick as the kerf.
 * @source common practice, no source
 */
export function splinePart(wood: string, faceNm: number, quantity: number, facts: PartsOf, milledIn: string): Part {
  const {
    allowances: { sawKerfNm },
    units,
  } = facts
  const deepNm = splineDepth(faceNm, facts)
  const size = { lengthNm: 2 * deepNm, widthNm: deepNm, thicknessNm: sawKerfNm }
  const spare = usualSize(facts, 1 / 4, 6)
  return {
    name: SPLINE,
    wood,
    quantity,
    rough: { lengthNm: size.lengthNm + spare, widthNm: size.widthNm + spare, thicknessNm: sawKerfNm },
    finished: size,
    // It fills the slot that was cut for it.
    solidShare: 0,
    note: 'Grain across the miter; trimmed flush.',
    why: `Reaches ${writeLength(deepNm, units)} in from the corner, ${writeLength(spare, units)} over to trim flush; as thick as the saw’s kerf (${writeLength(sawKerfNm, units)}).`,
    milledIn,
  }
}
