import { writeLength } from '../../lengths/write-length.ts'
import { floatingField } from '../../wood/floating-field.ts'
import type { Fact, Part } from '../construction.ts'
import { foremost, frontParts } from './box-extras.ts'
import type { BoxSpec } from './box-spec.ts'
import { coefficientOf, stavesChange, unknownMovement, type FieldThroughSeasons } from '../design/field-change.ts'
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
  /** Of the back of a drawer, which ends above the groove; null where all four sides are alike. */
  readonly backHeightNm: number | null
  readonly bottom: StavePanel
  readonly bottomStaves: StaveGeometry
  readonly bottomChange: FieldThroughSeasons
  readonly lid: {
    readonly panel: StavePanel
    readonly staves: StaveGeometry
    readonly change: FieldThroughSeasons
  } | null
  readonly warnings: readonly string[]
}

export function boxGeometry(spec: BoxSpec, facts: ShopFacts): BoxGeometry {
  const { lengthNm, widthNm, sideNm, wood, bottomNm, staveNm } = spec
  const insideLengthNm = lengthNm - 2 * sideNm
  const insideWidthNm = widthNm - 2 * sideNm
  const grooveNm = Math.round(sideNm / 2)
  const change = stavesChange(insideWidthNm, insideLengthNm, [{ wood, size: 1 }], facts, spec.cut)
  const drawer = spec.bottomFit === 'drawer'
  const held = drawer ? 'one-edge' : 'middle'
  // The back of a drawer ends above the groove: the bottom lies under it and may move by all of its thickness.
  const roomNm = drawer ? sideNm : grooveNm
  // As a bottom is as wide as its room leaves it, the bite is what is left of that beside the room to grow.
  const { clearanceNm } = floatingField(change.across, roomNm, held, facts.units)
  const fit = floatingField(change.across, Math.max(0, roomNm - clearanceNm), held, facts.units)
  const lengthwise = floatingField(change.along, grooveNm, 'middle', facts.units).clearanceNm
  const bottom: StavePanel = {
    lengthNm: insideLengthNm + 2 * (grooveNm - lengthwise),
    widthNm: insideWidthNm + grooveNm + roomNm - (drawer ? 1 : 2) * clearanceNm,
    thicknessNm: bottomNm,
    woods: [wood],
    staveNm,
    lay: 'face-up',
  }
  const rebated = spec.corners === 'rebated'
  const lid = spec.lid === 'none' ? null : lidOf(spec, facts)
  return {
    longSideNm: lengthNm,
    // The short sides of a rebated box stand in rebates half as deep as the long sides are thick.
    shortSideNm: rebated ? widthNm - 2 * (sideNm - grooveNm) : widthNm,
    grooveNm,
    clearanceNm,
    backHeightNm: drawer ? spec.heightNm - 2 * bottomNm : null,
    bottom,
    bottomStaves: staveGeometry(bottom, facts.allowances),
    bottomChange: change,
    lid,
    warnings: [
      ...bottomWarnings(spec, roomNm, roomNm - clearanceNm, fit.biteAtDriestNm, facts),
      ...new Set([...unknownMovement(change), ...(lid === null ? [] : unknownMovement(lid.change))]),
    ],
  }
}

function lidOf(spec: BoxSpec, facts: ShopFacts): NonNullable<BoxGeometry['lid']> {
  const { lengthNm, widthNm, lidNm, lidWood, staveNm } = spec
  const panel: StavePanel = { lengthNm, widthNm, thicknessNm: lidNm, woods: [lidWood], staveNm, lay: 'face-up' }
  return {
    panel,
    staves: staveGeometry(panel, facts.allowances),
    change: stavesChange(widthNm, lengthNm, [{ wood: lidWood, size: 1 }], facts, spec.cut),
  }
}

/** @param roomNm what holds it: the groove, or the back over it; @param biteNm what is left of that beside the room to grow; @param dryBiteNm what is left of that in the dry season */
function bottomWarnings(
  spec: BoxSpec,
  roomNm: number,
  biteNm: number,
  dryBiteNm: number,
  { units }: ShopFacts,
): string[] {
  const say = (nm: number): string => writeLength(nm, units)
  const { bottomNm, sideNm } = spec
  const warnings: string[] = []
  if (biteNm <= 0 || dryBiteNm <= 0) {
    const holds = spec.bottomFit === 'drawer' ? 'the back over it is only' : 'its groove is only'
    warnings.push(
      `The bottom moves ${say(Math.max(roomNm - biteNm, biteNm - dryBiteNm))} a side and ${holds} ${say(roomNm)} deep: take thicker sides, a narrower box, or sheet stock for the bottom.`,
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
  const { allowances, units } = facts
  const say = (nm: number): string => writeLength(nm, units)
  const spare = spec.corners === 'mitred' ? allowances.mitreTrimNm : 2 * allowances.squareEndNm
  const side = (name: string, lengthNm: number, quantity = 2 * count): Part => ({
    name,
    wood: spec.wood,
    quantity,
    rough: { lengthNm: lengthNm + spare, widthNm: spec.heightNm + allowances.jointEdgeNm, thicknessNm: spec.sideNm },
    finished: { lengthNm, widthNm: spec.heightNm, thicknessNm: spec.sideNm },
    solidShare: solidShareOf(lengthNm, spec, geometry),
    note:
      spec.corners === 'mitred'
        ? 'Cut one after the other from one board, so that the grain runs round.'
        : 'Width is the height of the box.',
    milledIn: 'mill',
    why: `${say(lengthNm)} from end to end and ${say(spare)} ${spec.corners === 'mitred' ? 'for trimming the miters' : 'to square both ends'}; height ${say(spec.heightNm)} and ${say(allowances.jointEdgeNm)} for the edge; thickness as it is.`,
  })
  const long =
    geometry.backHeightNm === null
      ? [side('Long side', geometry.longSideNm)]
      : [
          side(foremost(spec), geometry.longSideNm, count),
          backOf(side('Drawer back', geometry.longSideNm, count), geometry.backHeightNm),
        ]
  return [
    ...long,
    side('Short side', geometry.shortSideNm),
    ...frontParts(spec, count, facts),
    ...staveParts('Bottom', geometry.bottom, geometry.bottomStaves, count, facts, 'bottom-'),
    ...(geometry.lid === null ? [] : staveParts('Lid', geometry.lid.panel, geometry.lid.staves, count, facts, 'lid-')),
    ...(spec.splines > 0
      ? [splinePart(spec.splineWood ?? spec.wood, 2 * spec.sideNm, 4 * spec.splines * count, facts, 'mill')]
      : []),
  ]
}

/** Less the mitre or rebate at both ends, each worth half a thickness, and the groove that the bottom fills. */
function solidShareOf(
  lengthNm: number,
  { sideNm, heightNm, bottomNm, corners }: BoxSpec,
  { grooveNm, shortSideNm }: BoxGeometry,
): number {
  const atCorners = corners === 'rebated' && lengthNm === shortSideNm ? 0 : sideNm / lengthNm
  return 1 - atCorners - (grooveNm * bottomNm) / (sideNm * heightNm)
}

const backOf = (side: Part, heightNm: number): Part => ({
  ...side,
  finished: { ...side.finished, widthNm: heightNm },
  note: 'Grooved like the others, then cut off above the groove, so that the bottom slides in.',
})

export function boxFacts(spec: BoxSpec, geometry: BoxGeometry, facts: ShopFacts): Fact[] {
  const say = (nm: number): string => writeLength(nm, facts.units)
  const fact = (key: string, label: string, nm: number, rule: string, source = 'common practice, no source'): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule,
    source,
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
        ? 'from miter to miter'
        : `width ${say(spec.widthNm)} less what the rabbets leave of the long sides`,
    ),
    fact('groove', 'Groove for the bottom', geometry.grooveNm, `half of the sides (${say(spec.sideNm)})`),
    fact(
      'bottom-width',
      'Bottom, across the grain',
      bottom.widthNm,
      `${spec.bottomFit === 'drawer' ? `inside, one groove and the thickness of the back, less ${say(geometry.clearanceNm)} to grow behind` : `inside and two grooves, less ${say(geometry.clearanceNm)} to grow at each side`}. ${facts.moisture.because}`,
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
          ...(['grow', 'shrink'] as const).map((way) =>
            fact(
              `lid-${way}s`,
              `Lid ${way}s across, ${way === 'grow' ? 'damp' : 'dry'} season`,
              lid.change.across[`${way}Nm`].planned,
              `${say(lid.panel.widthNm)} across the grain × ${coefficientOf([{ wood: spec.lidWood, size: 1 }], facts, spec.cut).coefficient.planned} for each 1% of moisture. ${facts.moisture.because}`,
              `Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2; ${lid.change.source}`,
            ),
          ),
        ]),
  ]
}
