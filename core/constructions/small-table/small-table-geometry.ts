import { millimetres } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { fixingSlot, type FixingSlot } from '../../wood/fixing-slots.ts'
import type { Fact, Fitting, Part } from '../construction.ts'
import { widerThanSander } from '../design/design-warnings.ts'
import { coefficientOf, stavesChange, unknownMovement, type FieldThroughSeasons } from '../design/field-change.ts'
import { movementFacts } from '../design/movement-facts.ts'
import { usualSize } from '../design/usual-size.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { SmallTableSpec } from './small-table-spec.ts'
import { staveGeometry, staveParts, type StaveGeometry, type StavePanel } from '../design/staves.ts'

/** The sizes of a small table or bench. Whole nanometres. */
export interface TableGeometry {
  readonly top: StavePanel
  readonly topStaves: StaveGeometry
  readonly change: FieldThroughSeasons
  readonly legLengthNm: number
  /** As long as they can be without meeting in the leg, an inch at most. */
  readonly tenonNm: number
  /** Aprons as seen between the legs. */
  readonly longApronNm: number
  readonly shortApronNm: number
  /** What a fastener on the long apron must let the top move, with the top held at its middle. */
  readonly slot: FixingSlot
  readonly fasteners: number
  readonly warnings: readonly string[]
}

/** A screw of about 4.5 mm holds a button or a figure-eight. */
const SCREW_NM = millimetres(4.5)

/** A figure-eight swings about so far to either side; common practice, no source. */
const swingOf = (facts: OfShop): number => usualSize(facts, 1 / 8, 3)

/** Fasteners about a foot apart along the apron; common practice, no source. */
const spacingOf = (facts: OfShop): number => usualSize(facts, 12, 300)

type OfShop = Pick<ShopFacts, 'units'>

export function tableGeometry(spec: SmallTableSpec, facts: ShopFacts): TableGeometry {
  const top: StavePanel = {
    lengthNm: spec.lengthNm,
    widthNm: spec.widthNm,
    thicknessNm: spec.topNm,
    woods: [spec.wood],
    staveNm: spec.staveNm,
    lay: 'face-up',
  }
  const shares = [{ wood: spec.wood, size: 1 }]
  const change = stavesChange(spec.widthNm, spec.lengthNm, shares, facts, spec.cut)
  const longApronNm = spec.lengthNm - 2 * spec.overhangNm - 2 * spec.legNm
  const shortApronNm = spec.widthNm - 2 * spec.overhangNm - 2 * spec.legNm
  const fromMiddleNm = Math.round(spec.widthNm / 2) - spec.overhangNm
  const { coefficient } = coefficientOf(shares, facts, spec.cut)
  // Buttons and figure-eights are screwed to the top and travel with it; the apron stays.
  const slot = fixingSlot(fromMiddleNm, SCREW_NM, coefficient, facts.moisture, 'what-stays')
  return {
    top,
    topStaves: staveGeometry(top, facts.allowances),
    change,
    legLengthNm: spec.heightNm - spec.topNm,
    tenonNm: tenonLength(spec, facts),
    longApronNm,
    shortApronNm,
    slot,
    fasteners: 2 * fastenersOn(longApronNm, facts) + 2 * fastenersOn(shortApronNm, facts),
    warnings: [
      ...widerThanSander('The top', Math.min(spec.widthNm, spec.lengthNm), facts),
      ...unknownMovement(change),
      ...shortTenonWarning(spec, facts),
      ...swingWarning(spec, slot, facts),
    ],
  }
}

/**
 * Two tenons come into a leg at right angles, each at the middle of its face: they meet when they are longer than from the face to
 * the other tenon's cheek. An inch at most.
 * @source plane geometry; tenons a third of the apron thick: common practice, no source
 */
const tenonLength = ({ legNm, apronNm }: SmallTableSpec, facts: OfShop): number =>
  Math.min(Math.floor((legNm - apronNm / 3) / 2), longestTenon(facts))

const longestTenon = (facts: OfShop): number => usualSize(facts, 1, 25)

/** Shorter than half an inch (12 mm) a glued tenon holds little; common practice, no source. */
function shortTenonWarning(spec: SmallTableSpec, facts: ShopFacts): string[] {
  const { units } = facts
  const tenonNm = tenonLength(spec, facts)
  if (tenonNm >= usualSize(facts, 1 / 2, 12)) return []
  return [
    `In legs of ${writeLength(spec.legNm, units)} the tenons can only be ${writeLength(tenonNm, units)} long before they meet: take thicker legs, or miter their ends.`,
  ]
}

const fastenersOn = (apronNm: number, facts: OfShop): number => Math.max(1, Math.round(apronNm / spacingOf(facts)))

function swingWarning({ fasteners }: SmallTableSpec, slot: FixingSlot, facts: ShopFacts): string[] {
  const swingNm = swingOf(facts)
  const movesNm = Math.max(slot.outwardNm, slot.inwardNm)
  if (fasteners !== 'figure-eights' || movesNm <= swingNm) return []
  const say = (nm: number): string => writeLength(nm, facts.units)
  return [`The top moves ${say(movesNm)} at the long apron, a figure-eight swings about ${say(swingNm)}: take buttons.`]
}

export function tableParts(spec: SmallTableSpec, geometry: TableGeometry, count: number, facts: ShopFacts): Part[] {
  const { allowances } = facts
  const say = (nm: number): string => writeLength(nm, facts.units)
  const spare = 2 * allowances.squareEndNm
  const apron = (name: string, seenNm: number): Part => {
    const lengthNm = seenNm + 2 * geometry.tenonNm
    return {
      name,
      wood: spec.baseWood,
      quantity: 2 * count,
      rough: {
        lengthNm: lengthNm + spare,
        widthNm: spec.apronHeightNm + allowances.jointEdgeNm,
        thicknessNm: spec.apronNm,
      },
      finished: { lengthNm, widthNm: spec.apronHeightNm, thicknessNm: spec.apronNm },
      // The tenons fill their mortises.
      solidShare: seenNm / lengthNm,
      note: 'Length with its tenons.',
      why: `${say(seenNm)} between the legs, two tenons of ${say(geometry.tenonNm)}, ${say(allowances.squareEndNm)} to square each end; ${say(spec.apronHeightNm)} and ${say(allowances.jointEdgeNm)} for the edge; thickness as it is.`,
      milledIn: 'base-mill',
    }
  }
  const leg: Part = {
    name: 'Leg',
    wood: spec.baseWood,
    quantity: 4 * count,
    rough: {
      lengthNm: geometry.legLengthNm + spare,
      widthNm: spec.legNm + allowances.jointEdgeNm,
      thicknessNm: spec.legNm + allowances.jointEdgeNm,
    },
    finished: { lengthNm: geometry.legLengthNm, widthNm: spec.legNm, thicknessNm: spec.legNm },
    why: `${say(geometry.legLengthNm)} and ${say(allowances.squareEndNm)} to square each end; ${say(spec.legNm)} and ${say(allowances.jointEdgeNm)} both ways.`,
    milledIn: 'base-mill',
  }
  return [
    ...staveParts('Top', geometry.top, geometry.topStaves, count, facts, 'top-'),
    leg,
    apron('Long apron', geometry.longApronNm),
    apron('Short apron', geometry.shortApronNm),
    ...(spec.fasteners === 'buttons' ? [buttonStrip(spec, geometry, count, facts)] : []),
  ]
}

/** A button: its tongue reaches into the apron's groove, a screw holds it to the top; common practice, no source. */
export const buttonOf = (facts: OfShop) => ({
  lengthNm: usualSize(facts, 1.5, 38),
  widthNm: usualSize(facts, 1, 25),
  thicknessNm: usualSize(facts, 3 / 4, 20),
  tongueNm: usualSize(facts, 3 / 8, 10),
})

export const BUTTON_STRIP = 'Button strip'

/** All buttons of a table are cut off one strip, which is long enough to hold the last one safely. */
function buttonStrip(
  { baseWood }: SmallTableSpec,
  { fasteners }: TableGeometry,
  count: number,
  facts: ShopFacts,
): Part {
  const { sawKerfNm, holdLastPieceNm, jointEdgeNm, shortestPlanedNm } = facts.allowances
  const say = (nm: number): string => writeLength(nm, facts.units)
  const { lengthNm, widthNm, thicknessNm } = buttonOf(facts)
  return {
    name: BUTTON_STRIP,
    wood: baseWood,
    quantity: count,
    rough: {
      lengthNm: Math.max(fasteners * (lengthNm + sawKerfNm) + holdLastPieceNm, shortestPlanedNm),
      widthNm: widthNm + jointEdgeNm,
      thicknessNm,
    },
    finished: { lengthNm: fasteners * lengthNm, widthNm, thicknessNm },
    note: `Yields ${fasteners} buttons (total length).`,
    milledIn: 'base-mill',
    why: `${fasteners} buttons of ${say(lengthNm)}, each with a kerf of ${say(sawKerfNm)}, and ${say(holdLastPieceNm)} to hold the last one; ${say(widthNm)} and ${say(jointEdgeNm)} for the edge; no shorter than the planer takes.`,
  }
}

/** What is bought to hold the tops of so many tables. */
export const tableFittings = (
  { fasteners: kind }: SmallTableSpec,
  { fasteners }: TableGeometry,
  count: number,
): Fitting[] =>
  kind === 'buttons'
    ? [
        {
          name: 'Screws for the buttons',
          quantity: fasteners * count,
          note: 'Shorter than button and top are thick together.',
        },
      ]
    : [
        { name: 'Figure-eights', quantity: fasteners * count, note: 'Let into the aprons, free to swing.' },
        {
          name: 'Screws for the figure-eights',
          quantity: 2 * fasteners * count,
          note: 'Shorter than the top is thick.',
        },
      ]

export function tableFacts(spec: SmallTableSpec, geometry: TableGeometry, facts: ShopFacts): Fact[] {
  const say = (nm: number): string => writeLength(nm, facts.units)
  const fact = (key: string, label: string, nm: number, rule: string, source = 'common practice, no source'): Fact => ({
    key,
    label,
    value: { kind: 'length', nm },
    rule,
    source,
  })
  const { slot } = geometry
  const base = `less twice ${say(spec.overhangNm)} and two legs of ${say(spec.legNm)}`
  return [
    fact('leg', 'Legs long', geometry.legLengthNm, `height ${say(spec.heightNm)} less the top (${say(spec.topNm)})`),
    fact('long-apron', 'Long aprons between the legs', geometry.longApronNm, `length ${say(spec.lengthNm)} ${base}`),
    fact('short-apron', 'Short aprons between the legs', geometry.shortApronNm, `width ${say(spec.widthNm)} ${base}`),
    fact(
      'tenon',
      'Tenons',
      geometry.tenonNm,
      `as long as two can be that come into a leg of ${say(spec.legNm)} at right angles, ${say(longestTenon(facts))} at most`,
    ),
    ...movementFacts('Top', geometry.change, ['across'], facts),
    fact(
      'slot',
      spec.fasteners === 'buttons' ? 'Buttons may slide' : 'Figure-eights must swing',
      slot.lengthNm - SCREW_NM,
      `${say(slot.outwardNm)} outward and ${say(slot.inwardNm)} inward at the long aprons, with the top fixed at the middle of the short ones. ${facts.moisture.because}`,
      'derived from Wood Handbook Eq. 13-2; the working margin is common practice, no source',
    ),
    {
      key: 'fasteners',
      label: 'Fasteners',
      value: { kind: 'count', count: geometry.fasteners },
      rule: `about one every ${say(spacingOf(facts))} of apron, at least one a side`,
      source: 'common practice, no source',
    },
  ]
}
