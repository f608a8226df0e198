import { writeLength } from '../../lengths/write-length.ts'
import { floatingField, gluedSolidWarning } from '../../wood/floating-field.ts'
import { mitreOpening } from '../../wood/mitre-opening.ts'
import type { Fact } from '../construction.ts'
import { widerThanJointer } from './design-warnings.ts'
import { coefficientOf, unknownMovement, type FieldChange } from './field-change.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** A frame of four mitred members around a field; a tongue on the inside of each sits in a groove in the field's edge. */
export interface MitredFrame {
  readonly wood: string
  /** Width that is seen. */
  readonly faceNm: number
  /** Length of the tongue beyond the face. */
  readonly tongueNm: number
  /** Glued at the middle of each side only, so that the field may move; or all round, which holds for very small fields at best. */
  readonly fixing: 'middle' | 'all-round'
  /** Keys of wood across the mitres. */
  readonly splines: boolean
}

/** The sizes of a frame and of what it leaves its field to move in. Whole nanometres. */
export interface FrameGeometry {
  readonly outsideAcrossNm: number
  readonly outsideAlongNm: number
  /** Face and tongue together: the width to which the stock is cut. */
  readonly stockWidthNm: number
  /** Blanks as long as their outside edge plus trimming, two of each. */
  readonly blankAcrossNm: number
  readonly blankAlongNm: number
  /** Room left between field and frame at each side on the day it is built. */
  readonly gapAcrossNm: number
  readonly gapAlongNm: number
  /** Least depth of the groove in the field's edge: the tongue, and room for the field to grow. */
  readonly grooveNm: number
  /** What the field would grow at each side in the damp season and finds no room for; 0 where it floats. */
  readonly forcedAcrossNm: number
  readonly forcedAlongNm: number
  readonly warnings: readonly string[]
}

/** @source common practice, no source: a 3 1/2 in visible face and a 1/2 in tongue are cut 4 in wide */
export function frameGeometry(
  fieldAcrossNm: number,
  fieldAlongNm: number,
  frame: MitredFrame,
  change: FieldChange,
  facts: ShopFacts,
): FrameGeometry {
  const fit =
    frame.fixing === 'middle'
      ? floating(frame, change, facts)
      : gluedSolid(fieldAcrossNm, fieldAlongNm, frame, change, facts)
  const outsideAcrossNm = fieldAcrossNm + 2 * (frame.faceNm + fit.gapAcrossNm)
  const outsideAlongNm = fieldAlongNm + 2 * (frame.faceNm + fit.gapAlongNm)
  const stockWidthNm = frame.faceNm + frame.tongueNm
  const { mitreTrimNm } = facts.allowances
  return {
    ...fit,
    outsideAcrossNm,
    outsideAlongNm,
    stockWidthNm,
    blankAcrossNm: outsideAcrossNm + mitreTrimNm,
    blankAlongNm: outsideAlongNm + mitreTrimNm,
    warnings: [...fit.warnings, ...unknownMovement(change), ...widerThanJointer('Frame stock', stockWidthNm, facts)],
  }
}

type Fit = Omit<FrameGeometry, 'outsideAcrossNm' | 'outsideAlongNm' | 'stockWidthNm' | 'blankAcrossNm' | 'blankAlongNm'>

/**
 * The field stands off by the gap on the day it is built, so the tongue reaches in by what the gap leaves of it. When the field has
 * closed the gap, the tongue reaches in wholly and still has as much room behind it.
 */
function floating({ tongueNm }: MitredFrame, change: FieldChange, { units }: ShopFacts): Fit {
  const clearance = (of: FieldChange['across']): number => floatingField(of, tongueNm, 'middle', units).clearanceNm
  const gapAcrossNm = clearance(change.across)
  const gapAlongNm = clearance(change.along)
  const sides = [
    floatingField(change.across, tongueNm - gapAcrossNm, 'middle', units),
    floatingField(change.along, tongueNm - gapAlongNm, 'middle', units),
  ]
  return {
    gapAcrossNm,
    gapAlongNm,
    grooveNm: tongueNm + Math.max(gapAcrossNm, gapAlongNm),
    forcedAcrossNm: 0,
    forcedAlongNm: 0,
    warnings: [...new Set(sides.flatMap((side) => side.warnings))],
  }
}

function gluedSolid(
  acrossNm: number,
  alongNm: number,
  { tongueNm }: MitredFrame,
  change: FieldChange,
  { units }: ShopFacts,
): Fit {
  const [worse, size] =
    change.across.growNm.planned >= change.along.growNm.planned ? [change.across, acrossNm] : [change.along, alongNm]
  const warning = gluedSolidWarning(size, worse, units)
  const forced = ({ growNm }: FieldChange['across']): number => (warning === null ? 0 : Math.ceil(growNm.planned / 2))
  return {
    gapAcrossNm: 0,
    gapAlongNm: 0,
    grooveNm: tongueNm,
    forcedAcrossNm: forced(change.across),
    forcedAlongNm: forced(change.along),
    warnings: warning === null ? [] : [warning],
  }
}

const PRACTICE = 'common practice, no source'

/** Outside, stock, blanks, groove and mitres. */
export function frameFacts(frame: MitredFrame, geometry: FrameGeometry, facts: ShopFacts): Fact[] {
  const say = (nm: number): string => writeLength(nm, facts.units)
  const length = (key: string, label: string, nm: number, rule: string, source = PRACTICE): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule,
    source,
  })
  const opening = mitreOpening(
    geometry.stockWidthNm,
    coefficientOf([{ wood: frame.wood, size: 1 }], facts).coefficient,
    facts.moisture,
  )
  const gap = (nm: number): string => (nm === 0 ? '' : ` and a gap of ${say(nm)} at each side`)
  return [
    length(
      'outside-across',
      'Outside across',
      geometry.outsideAcrossNm,
      `field and twice ${say(frame.faceNm)}${gap(geometry.gapAcrossNm)}`,
    ),
    length(
      'outside-along',
      'Outside along',
      geometry.outsideAlongNm,
      `field and twice ${say(frame.faceNm)}${gap(geometry.gapAlongNm)}`,
    ),
    length(
      'frame-stock',
      'Frame stock cut to',
      geometry.stockWidthNm,
      `${say(frame.faceNm)} seen and ${say(frame.tongueNm)} tongue`,
    ),
    length(
      'frame-blank',
      'Longest frame blank',
      Math.max(geometry.blankAcrossNm, geometry.blankAlongNm),
      `outside edge and ${say(facts.allowances.mitreTrimNm)} for trimming`,
    ),
    length(
      'groove',
      'Groove in the field at least',
      geometry.grooveNm,
      `${grooveRule(frame, geometry, say)}. ${facts.moisture.because}`,
      `derived from Wood Handbook Eq. 13-2; ${facts.moisture.source}`,
    ),
    length(
      'mitres-open',
      'Mitres would gape inside, dry season',
      opening.insideNm,
      `members ${say(geometry.stockWidthNm)} wide, if nothing held them; narrow members and splines help. ${facts.moisture.because}`,
      `derived from Wood Handbook Eq. 13-2 and plane geometry; ${facts.moisture.source}`,
    ),
  ]
}

const grooveRule = (frame: MitredFrame, geometry: FrameGeometry, say: (nm: number) => string): string =>
  frame.fixing === 'middle'
    ? `tongue ${say(frame.tongueNm)} and ${say(geometry.grooveNm - frame.tongueNm)} for half the growth; glued at the middle of each side only`
    : `tongue ${say(frame.tongueNm)}, glued all round`
