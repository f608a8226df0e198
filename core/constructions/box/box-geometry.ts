import { writeLength } from '../../lengths/write-length.ts'
import { floatingField } from '../../wood/floating-field.ts'
import type { Fact, Part } from '../construction.ts'
import type { BoxSpec } from './box-spec.ts'
import { coefficientOf, stavesChange, unknownMovement, type FieldChange } from '../design/field-change.ts'
import { splinePart } from '../design/frame-parts.ts'
import { movementFacts } from '../design/movement-facts.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { staveGeometry, staveParts, type StaveGeometry, type StavePanel } from '../design/staves.ts'

/** The sizes of a box: its grain runs round the sides, and along the length in bottom and lid. Whole nanometres. */
export interface BoxGeometry {
  /** Of the long and of the short sides from end to end, finished. */
  readonly longSideNm: number
  readonly shortSideNm: number
  /** Depth of the groove that holds the bottom, and how much of it is left free across the grain at each side. */
  readonly grooveNm: number
  readonly clearanceNm: number
  readonly bottom: StavePanel
  readonly bottomStaves: StaveGeometry
  readonly bottomChange: FieldChange
  readonly lid: { readonly panel: StavePanel; readonly staves: StaveGeometry; readonly change: FieldChange } | null
  readonly warnings: readonly string[]
}

export function boxGeometry(spec: BoxSpec, facts: ShopFacts): BoxGeometry {
  const { lengthNm, widthNm, sideNm, wood, bottomNm, staveNm } = spec
  const insideLengthNm = lengthNm - 2 * sideNm
  const insideWidthNm = widthNm - 2 * sideNm
  const grooveNm = Math.round(sideNm / 2)
  const change = stavesChange(insideWidthNm, insideLengthNm, [{ wood, size: 1 }], facts)
  const held = spec.bottomFit === 'drawer' ? 'one-edge' : 'middle'
  // As a bottom is as wide as its groove leaves it, the bite is what is left of the groove beside the room to grow.
  const { clearanceNm } = floatingField(change.across, grooveNm, held, facts.units)
  const fit = floatingField(change.across, Math.max(0, grooveNm - clearanceNm), held, facts.units)
  const lengthwise = floatingField(change.along, grooveNm, 'middle', facts.units).clearanceNm
  const bottom: StavePanel = {
    lengthNm: insideLengthNm + 2 * (grooveNm - lengthwise),
    widthNm: insideWidthNm + 2 * grooveNm - (held === 'middle' ? 2 : 1) * clearanceNm,
    thicknessNm: bottomNm,
    woods: [wood],
    staveNm,
    lay: 'face-up',
  }
  const rebated = spec.corners === 'rebated'
  return {
    longSideNm: lengthNm,
    // The short sides of a rebated box stand in rebates half as deep as the long sides are thick.
    shortSideNm: rebated ? widthNm - 2 * (sideNm - grooveNm) : widthNm,
    grooveNm,
    clearanceNm,
    bottom,
    bottomStaves: staveGeometry(bottom, facts.allowances),
    bottomChange: change,
    lid: spec.lid === 'none' ? null : lidOf(spec, facts),
    warnings: [
      ...bottomWarnings(spec, grooveNm, grooveNm - clearanceNm, fit.biteAtDriestNm, facts),
      ...unknownMovement(change),
    ],
  }
}

function lidOf(spec: BoxSpec, facts: ShopFacts): NonNullable<BoxGeometry['lid']> {
  const { lengthNm, widthNm, lidNm, lidWood, staveNm } = spec
  const panel: StavePanel = { lengthNm, widthNm, thicknessNm: lidNm, woods: [lidWood], staveNm, lay: 'face-up' }
  return {
    panel,
    staves: staveGeometry(panel, facts.allowances),
    change: stavesChange(widthNm, lengthNm, [{ wood: lidWood, size: 1 }], facts),
  }
}

/** @param biteNm what is left of the groove beside the room to grow; @param dryBiteNm what is left of that in the dry season */
function bottomWarnings(
  spec: BoxSpec,
  grooveNm: number,
  biteNm: number,
  dryBiteNm: number,
  { units }: ShopFacts,
): string[] {
  const say = (nm: number): string => writeLength(nm, units)
  const { bottomNm, sideNm } = spec
  const warnings: string[] = []
  if (biteNm <= 0 || dryBiteNm <= 0) {
    warnings.push(
      `The bottom moves ${say(Math.max(grooveNm - biteNm, biteNm - dryBiteNm))} a side and its groove is only ${say(grooveNm)} deep: take thicker sides, a narrower box, or sheet stock for the bottom.`,
    )
  }
  if (bottomNm > sideNm) {
    warnings.push(
      `The bottom (${say(bottomNm)}) is thicker than the sides (${say(sideNm)}): thin its edges where they enter the groove.`,
    )
  }
  return warnings
}

export function boxParts(spec: BoxSpec, geometry: BoxGeometry, count: number, facts: ShopFacts): Part[] {
  const { allowances } = facts
  const spare = spec.corners === 'mitred' ? allowances.mitreTrimNm : 2 * allowances.squareEndNm
  const side = (name: string, lengthNm: number): Part => ({
    name,
    wood: spec.wood,
    quantity: 2 * count,
    rough: { lengthNm: lengthNm + spare, widthNm: spec.heightNm + allowances.jointEdgeNm, thicknessNm: spec.sideNm },
    finished: { lengthNm, widthNm: spec.heightNm, thicknessNm: spec.sideNm },
    note:
      spec.corners === 'mitred'
        ? 'Cut one after the other from one board, so that the grain runs round.'
        : 'Width is the height of the box.',
    milledIn: 'mill',
  })
  return [
    side('Long side', geometry.longSideNm),
    side('Short side', geometry.shortSideNm),
    ...staveParts('Bottom', geometry.bottom, geometry.bottomStaves, count, 'bottom-'),
    ...(geometry.lid === null ? [] : staveParts('Lid', geometry.lid.panel, geometry.lid.staves, count, 'lid-')),
    ...(spec.splines > 0 ? [splinePart(spec.wood, 2 * spec.sideNm, 4 * spec.splines * count, allowances, 'mill')] : []),
  ]
}

export function boxFacts(spec: BoxSpec, geometry: BoxGeometry, facts: ShopFacts): Fact[] {
  const say = (nm: number): string => writeLength(nm, facts.units)
  const fact = (key: string, label: string, nm: number, rule: string): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule,
    source: 'common practice, no source',
  })
  const { bottom, lid } = geometry
  return [
    fact(
      'inside-length',
      'Inside, along',
      spec.lengthNm - 2 * spec.sideNm,
      `outside ${say(spec.lengthNm)} less two sides of ${say(spec.sideNm)}`,
    ),
    fact(
      'inside-width',
      'Inside, across',
      spec.widthNm - 2 * spec.sideNm,
      `outside ${say(spec.widthNm)} less two sides of ${say(spec.sideNm)}`,
    ),
    fact(
      'short-side',
      'Short sides',
      geometry.shortSideNm,
      spec.corners === 'mitred'
        ? 'from mitre to mitre'
        : `width ${say(spec.widthNm)} less what the rebates leave of the long sides`,
    ),
    fact('groove', 'Groove for the bottom', geometry.grooveNm, `half of the sides (${say(spec.sideNm)})`),
    fact(
      'bottom-width',
      'Bottom, across the grain',
      bottom.widthNm,
      `inside and two grooves, less ${say(geometry.clearanceNm)} to grow at ${spec.bottomFit === 'drawer' ? 'the back' : 'each side'}. ${facts.moisture.because}`,
    ),
    fact(
      'bottom-length',
      'Bottom, along the grain',
      bottom.lengthNm,
      'inside and two grooves, less a working margin at each end',
    ),
    ...movementFacts('Bottom', geometry.bottomChange, ['across'], facts),
    ...(lid === null
      ? []
      : [
          fact('lid-width', 'Lid, across the grain', lid.panel.widthNm, 'as wide as the box'),
          fact(
            'lid-grows',
            'Lid grows across, damp season',
            lid.change.across.growNm.planned,
            `coefficient ${coefficientOf([{ wood: spec.lidWood, size: 1 }], facts).coefficient.planned} per 1 % of moisture. ${facts.moisture.because}`,
          ),
        ]),
  ]
}
