import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Fact, Field, Fitting, Part, SpecInput, Units } from '../construction.ts'
import { dimension, outline, rectangle } from '../design/draw.ts'
import type { SpecReader } from '../design/spec-reader.ts'
import type { DrawingView } from '../drawing.ts'
import { usualSize } from '../design/usual-size.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { FittingStep } from '../steps/finishing.ts'
import { addStep, type Network } from '../steps/network.ts'
import type { BoxSpec, DrawerFront } from './box-spec.ts'

/** Handles of trays and drawers, and a front that is screwed to a drawer from within. */
type BoxExtras = Pick<BoxSpec, 'handles' | 'front'>

const applied = { key: 'front', is: ['applied'] } as const

export const BOX_EXTRA_FIELDS: readonly Field[] = [
  {
    key: 'front',
    label: 'Drawer front',
    kind: 'choice',
    choices: [
      { value: 'own', label: 'The box’s own' },
      { value: 'applied', label: 'Screwed on' },
    ],
    formerly: { '': 'own' },
    when: { key: 'bottomFit', is: ['drawer'] },
  },
  { key: 'frontWood', label: 'Wood of the front', kind: 'wood', when: applied },
  {
    key: 'frontThickness',
    label: 'Thickness of the front',
    kind: 'length',
    leastNm: inches(1 / 4),
    mostNm: inches(2),
    when: applied,
  },
  { key: 'frontOver', label: 'Front overlaps by', kind: 'length', leastNm: 0, mostNm: inches(4), when: applied },
  {
    key: 'handles',
    label: 'Handles',
    kind: 'choice',
    choices: [
      { value: 'none', label: 'None' },
      { value: 'cut-out', label: 'Cut out of the ends' },
      { value: 'screwed-on', label: 'Screwed on' },
    ],
    formerly: { '': 'none' },
    extra: true,
  },
]

export const startingBoxExtras = (units: Units): SpecInput => ({
  front: 'own',
  frontWood: 'walnut',
  frontThickness: units === 'inch' ? '3/4' : '20',
  frontOver: units === 'inch' ? '1/2' : '12',
  handles: 'none',
})

export function readBoxExtras(form: SpecReader): BoxExtras {
  const isDrawer = form.choice<BoxSpec['bottomFit']>('bottomFit') === 'drawer'
  const handles = form.choice<'none' | NonNullable<BoxSpec['handles']>>('handles')
  return {
    ...(isDrawer && form.choice<'own' | 'applied'>('front') === 'applied'
      ? {
          front: {
            wood: form.wood('frontWood'),
            thicknessNm: form.length('frontThickness'),
            overNm: form.length('frontOver'),
          },
        }
      : {}),
    ...(handles === 'none' ? {} : { handles }),
  }
}

export const writeBoxExtras = ({ front, handles }: BoxExtras, units: Units): SpecInput => ({
  handles: handles ?? 'none',
  ...(front === undefined
    ? { front: 'own' }
    : {
        front: 'applied',
        frontWood: front.wood,
        frontThickness: writeLength(front.thicknessNm, units),
        frontOver: writeLength(front.overNm, units),
      }),
})

/** The name of a drawer's foremost side: its front where none is screwed to it. */
export const foremost = ({ front }: BoxExtras): string => (front === undefined ? 'Drawer front' : 'Inner front')

const seenFront = ({ lengthNm, heightNm }: BoxSpec, { overNm }: DrawerFront) => ({
  lengthNm: lengthNm + 2 * overNm,
  widthNm: heightNm + 2 * overNm,
})

/** The front that is screwed on, milled with the sides. */
export function frontParts(spec: BoxSpec, count: number, { allowances, units }: ShopFacts): Part[] {
  const { front } = spec
  if (front === undefined) return []
  const say = (nm: number): string => writeLength(nm, units)
  const seen = seenFront(spec, front)
  return [
    {
      name: 'Drawer front',
      wood: front.wood,
      quantity: count,
      rough: {
        lengthNm: seen.lengthNm + 2 * allowances.squareEndNm,
        widthNm: seen.widthNm + 2 * allowances.trimEdgeNm + allowances.jointEdgeNm,
        thicknessNm: front.thicknessNm,
      },
      finished: { ...seen, thicknessNm: front.thicknessNm },
      note: 'Screwed to the inner front from within.',
      milledIn: 'mill',
      why: `Drawer ${say(spec.lengthNm)} by ${say(spec.heightNm)} and ${say(front.overNm)} over at each side; ${say(allowances.squareEndNm)} to square each end, ${say(allowances.trimEdgeNm)} to trim each edge and ${say(allowances.jointEdgeNm)} for jointing; thickness as it is.`,
    },
  ]
}

/** Fingers of a whole hand go through; small boxes get less. Common practice, no source. */
function handHole(
  { heightNm, widthNm }: BoxSpec,
  facts: Pick<ShopFacts, 'units'>,
): {
  readonly longNm: number
  readonly highNm: number
  readonly fromTopNm: number
} {
  const highNm = Math.min(usualSize(facts, 1 + 1 / 4, 32), Math.floor(heightNm / 3))
  return {
    longNm: Math.min(usualSize(facts, 4, 100), Math.floor(widthNm / 2)),
    highNm,
    fromTopNm: Math.min(usualSize(facts, 1, 25), Math.floor((heightNm - highNm) / 2)),
  }
}

/** Between bottom and rim there is room for a hand. Common practice, no source. */
const leastForHandHole = (facts: Pick<ShopFacts, 'units'>): number => usualSize(facts, 2 + 1 / 2, 64)

export function boxExtraWarnings(spec: BoxSpec, facts: Pick<ShopFacts, 'units'>): string[] {
  const { units } = facts
  if (spec.handles !== 'cut-out' || spec.heightNm >= leastForHandHole(facts)) return []
  return [
    `Sides ${writeLength(spec.heightNm, units)} high leave no room for a hand: make them at least ${writeLength(leastForHandHole(facts), units)}, or screw handles on.`,
  ]
}

export function boxExtraFacts(spec: BoxSpec, facts: Pick<ShopFacts, 'units'>): Fact[] {
  const { units } = facts
  if (spec.handles !== 'cut-out') return []
  const { longNm, highNm, fromTopNm } = handHole(spec, facts)
  const say = (nm: number): string => writeLength(nm, units)
  const text = `${say(longNm)} by ${say(highNm)}, ${say(fromTopNm)} below the rim`
  return [
    {
      ...{ key: 'handles', label: 'Hand holes', value: { kind: 'text', text } },
      rule: 'one at the middle of each short side; never more than half its length or a third of its height',
      source: 'common practice, no source',
    },
  ]
}

export const boxExtraFittings = ({ handles, front }: BoxExtras, boxes: number): Fitting[] => [
  ...(handles === 'screwed-on'
    ? [
        { name: 'Handles', quantity: 2 * boxes, note: 'One at each end.' },
        {
          name: 'Screws for the handles',
          quantity: 4 * boxes,
          note: 'From within, shorter than side and handle together.',
        },
      ]
    : []),
  ...(front === undefined
    ? []
    : [
        {
          name: 'Screws for the front',
          quantity: 4 * boxes,
          note: 'From within, in oversize holes, so that the front can move.',
        },
      ]),
]

/** Hand holes are cut before the sides are glued up. Returns the key after which they may be. */
export const addHandHoles = (network: Network, { handles }: BoxExtras, count: number, after: string): string =>
  handles !== 'cut-out'
    ? after
    : addStep(network, {
        key: 'hand-holes',
        operation: 'cut-handles',
        name: 'Cut the hand holes',
        note: 'Bore both ends, rout along a template, ease the edges well.',
        units: count,
        dusty: true,
        work: ['route'],
        after: [after],
      })

/** What is put on after the finish. */
export const boxExtraSteps = ({ handles, front }: BoxExtras, count: number): FittingStep[] => [
  ...(front === undefined
    ? []
    : [
        {
          ...{ key: 'front', operation: 'fit-front' as const, name: 'Fit the drawer front', units: count },
          note: 'Shim the gaps even, two screws, check, then the others.',
        },
      ]),
  ...(handles === 'screwed-on'
    ? [{ key: 'handles', operation: 'fit-handles' as const, name: 'Screw on the handles', units: count }]
    : []),
]

/** The front as it is seen, and a short side with its hand hole. */
export function boxExtraViews(spec: BoxSpec, facts: ShopFacts): DrawingView[] {
  return [
    ...(spec.front === undefined ? [] : [frontView(spec, spec.front, facts)]),
    ...(spec.handles === 'cut-out' ? [endView(spec, facts)] : []),
  ]
}

function frontView(spec: BoxSpec, front: DrawerFront, facts: ShopFacts): DrawingView {
  const { lengthNm, widthNm } = seenFront(spec, front)
  const { overNm } = front
  return {
    name: 'Drawer front',
    widthNm: lengthNm,
    heightNm: widthNm,
    shapes: [
      rectangle(0, 0, lengthNm, widthNm, { wood: front.wood, grain: 'along-x', name: 'Drawer front' }),
      ...(overNm === 0 ? [] : [outline(overNm, overNm, spec.lengthNm, spec.heightNm, 'Drawer behind it')]),
    ],
    dimensions: [
      dimension('below', 1, 0, lengthNm, facts),
      dimension('left', 1, 0, widthNm, facts),
      ...(overNm === 0 ? [] : [dimension('above', 1, 0, overNm, facts, 'over')]),
    ],
  }
}

function endView(spec: BoxSpec, facts: ShopFacts): DrawingView {
  const { widthNm, heightNm, wood } = spec
  const { longNm, highNm, fromTopNm } = handHole(spec, facts)
  const x = Math.round((widthNm - longNm) / 2)
  return {
    name: 'Short side',
    widthNm,
    heightNm,
    shapes: [
      rectangle(0, 0, widthNm, heightNm, { wood, grain: 'along-x', name: 'Short side' }),
      rectangle(x, fromTopNm, longNm, highNm, { wood: null, grain: 'none', name: 'Hand hole' }),
    ],
    dimensions: [
      dimension('below', 1, x, x + longNm, facts, 'hand hole'),
      dimension('right', 1, fromTopNm, fromTopNm + highNm, facts, 'hand hole'),
    ],
  }
}
