import { writeLength } from '../../lengths/write-length.ts'
import { floatingField, gluedSolidWarning } from '../../wood/floating-field.ts'
import { mitreOpening } from '../../wood/mitre-opening.ts'
import type { Fact } from '../construction.ts'
import { widerThanJointer, widerThanSander } from './design-warnings.ts'
import { coefficientOf, unknownMovement, type FieldThroughSeasons } from './field-change.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** A frame of four mitred members around a field; a tongue on the inside of each sits in a groove in the field's edge. */
export interface MitredFrame {
  readonly wood: string
  /** Width that is seen. */
  readonly faceNm: number
  /** Length of the tongue beyond the face. */
  readonly tongueNm: number
  readonly fixing: FrameFixing
  /** Keys of wood across the mitres. */
  readonly splines: boolean
  /** Of the keys; absent: that of the frame. */
  readonly splineWood?: string
  /** Absent: flush with the field. */
  readonly under?: FrameUnder
}

/**
 * The underside of a frame. `raised`: it reaches so far below the field, which stands off the table. `beveled`: its lower outer edge is
 * cut off at 45 degrees, so high; fingers get under it, and it seems to float.
 */
export interface FrameUnder {
  readonly kind: 'raised' | 'beveled'
  readonly nm: number
}

/** How far the frame reaches below its field. */
export const standsOffNm = (frame: MitredFrame | null): number => (frame?.under?.kind === 'raised' ? frame.under.nm : 0)

/** How high its lower outer edge is beveled. */
export const bevelNm = ({ under }: MitredFrame): number => (under?.kind === 'beveled' ? under.nm : 0)

/**
 * Where the field is held. Opposite members are rigid to each other through the mitres, so a field held by two of them cannot
 * move between them.
 * `ends`: at the middle of the two members across the grain; a field of staves moves from there to both sides. An end-grain
 * field moves in that direction too, so it is never held so.
 * `one-side`: at the middle of one member (drawn on the left); the gap opposite takes all of the movement.
 * `dry`: in the groove without glue, centered by spacers.
 * `all-round`: glued solid, which holds for very small fields at best.
 */
export type FrameFixing = 'ends' | 'one-side' | 'dry' | 'all-round'

/** The sizes of a frame and of what it leaves its field to move in. Whole nanometres. */
export interface FrameGeometry {
  readonly outsideAcrossNm: number
  readonly outsideAlongNm: number
  /** Face and tongue together: the width to which the stock is cut. */
  readonly stockWidthNm: number
  /** Blanks as long as their outside edge plus trimming, two of each. */
  readonly blankAcrossNm: number
  readonly blankAlongNm: number
  /** Room left between field and frame on the day it is built: at the left, at the right, and at each end. */
  readonly gapLeftNm: number
  readonly gapRightNm: number
  readonly gapAlongNm: number
  /** Least depth of the groove in the field's edge: the tongue, and room for the field to grow. */
  readonly grooveNm: number
  /** What the field would grow at each side in the damp season and finds no room for; 0 where it floats. */
  readonly forcedAcrossNm: number
  readonly forcedAlongNm: number
  readonly warnings: readonly string[]
}

/** @source common practice, no source: a stick is cut as wide as the face that is seen and its tongue together */
export function frameGeometry(
  fieldAcrossNm: number,
  fieldAlongNm: number,
  frame: MitredFrame,
  change: FieldThroughSeasons,
  facts: ShopFacts,
): FrameGeometry {
  const fit =
    frame.fixing === 'all-round'
      ? gluedSolid(fieldAcrossNm, fieldAlongNm, frame, change, facts)
      : floating(frame, change, facts)
  const outsideAcrossNm = fieldAcrossNm + 2 * frame.faceNm + fit.gapLeftNm + fit.gapRightNm
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
    warnings: [
      ...fit.warnings,
      ...unknownMovement(change),
      ...widerThanJointer('Frame stock', stockWidthNm, facts),
      ...widerThanSander('With its frame it', Math.min(outsideAcrossNm, outsideAlongNm), facts),
    ],
  }
}

type Fit = Omit<FrameGeometry, 'outsideAcrossNm' | 'outsideAlongNm' | 'stockWidthNm' | 'blankAcrossNm' | 'blankAlongNm'>

/**
 * The field stands off by the gap on the day it is built, so the tongue reaches in by what the gap leaves of it. When the field has
 * closed the gap, the tongue reaches in wholly and still has as much room behind it.
 */
function floating({ tongueNm, fixing }: MitredFrame, change: FieldThroughSeasons, { units }: ShopFacts): Fit {
  const across = fixing === 'one-side' ? 'one-edge' : 'middle'
  const gapRightNm = floatingField(change.across, tongueNm, across, units).clearanceNm
  // Glued there, the field stands against the member.
  const gapLeftNm = fixing === 'one-side' ? 0 : gapRightNm
  const gapAlongNm = fixing === 'ends' ? 0 : floatingField(change.along, tongueNm, 'middle', units).clearanceNm
  const sides = [
    floatingField(change.across, tongueNm - gapRightNm, across, units),
    ...(fixing === 'ends' ? [] : [floatingField(change.along, tongueNm - gapAlongNm, 'middle', units)]),
  ]
  return {
    gapLeftNm,
    gapRightNm,
    gapAlongNm,
    grooveNm: tongueNm + Math.max(gapRightNm, gapAlongNm),
    forcedAcrossNm: 0,
    forcedAlongNm: 0,
    warnings: [...new Set(sides.flatMap((side) => side.warnings))],
  }
}

function gluedSolid(
  acrossNm: number,
  alongNm: number,
  { tongueNm }: MitredFrame,
  change: FieldThroughSeasons,
  { units }: ShopFacts,
): Fit {
  const [worse, size] =
    change.across.growNm.planned >= change.along.growNm.planned ? [change.across, acrossNm] : [change.along, alongNm]
  const warning = gluedSolidWarning(size, worse, units)
  const forced = ({ growNm }: FieldThroughSeasons['across']): number =>
    warning === null ? 0 : Math.ceil(growNm.planned / 2)
  return {
    gapLeftNm: 0,
    gapRightNm: 0,
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
  const gap = (nm: number, where: string): string => (nm === 0 ? '' : ` and a gap of ${say(nm)} ${where}`)
  return [
    length(
      'outside-across',
      'Outside across',
      geometry.outsideAcrossNm,
      `field and twice ${say(frame.faceNm)}${gap(geometry.gapRightNm, geometry.gapLeftNm === 0 ? 'on the side that isn’t glued' : 'at each side')}`,
    ),
    length(
      'outside-along',
      'Outside along',
      geometry.outsideAlongNm,
      `field and twice ${say(frame.faceNm)}${gap(geometry.gapAlongNm, 'at each end')}`,
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
    ...(frame.under === undefined
      ? []
      : [
          frame.under.kind === 'raised'
            ? length('stands-off', 'Field off the table', frame.under.nm, 'the frame is so much thicker than the field')
            : length('beveled', 'Beveled below', frame.under.nm, 'the lower outer edge cut off at 45 degrees'),
        ]),
    length(
      'mitres-open',
      'Miters would gape inside, dry season',
      opening.insideNm,
      `members ${say(geometry.stockWidthNm)} wide, if nothing held them; narrow members and splines help. ${facts.moisture.because}`,
      `derived from Wood Handbook Eq. 13-2 and plane geometry; ${facts.moisture.source}`,
    ),
  ]
}

function grooveRule({ fixing, tongueNm }: MitredFrame, geometry: FrameGeometry, say: (nm: number) => string): string {
  if (fixing === 'all-round') return `tongue ${say(tongueNm)}, glued all round`
  const growth = fixing === 'one-side' ? 'all of the growth' : 'half the growth'
  return `tongue ${say(tongueNm)} and ${say(geometry.grooveNm - tongueNm)} for ${growth}; ${HELD[fixing]}`
}

/** How the field is held, in a half sentence. */
const HELD: Readonly<Record<Exclude<FrameFixing, 'all-round'>, string>> = {
  ends: 'glued at the middle of the two end members only',
  'one-side': 'glued at the middle of one side member only',
  dry: 'no glue in the groove, centered with spacers',
}
