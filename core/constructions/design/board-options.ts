import type { LengthUnits } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Fact, Field, Fitting, SpecInput } from '../construction.ts'
import type { DrawingView, Shape } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { dimension, outline, rectangle } from './draw.ts'
import { usualSize } from './usual-size.ts'
import type { SpecReader } from './spec-reader.ts'

/** What may be worked into a board, and what it may stand on. */
export interface BoardOptions {
  readonly juiceGroove: boolean
  readonly fingerGrips: boolean
  readonly feet: boolean
}

/** The board itself: whole, and how much of it at each side is frame; a juice groove lies within that. */
export interface BoardSize {
  readonly acrossNm: number
  readonly alongNm: number
  readonly thicknessNm: number
  /** How far its frame reaches below it. */
  readonly standsOffNm: number
  readonly frameAcrossNm: number
  readonly frameAlongNm: number
  /** Of the shop: whose round figures its groove, grips and feet have. */
  readonly units: LengthUnits
}

export const BOARD_OPTION_FIELDS: readonly Field[] = [
  { key: 'juiceGroove', label: 'Juice groove', kind: 'yes-no' },
  { key: 'fingerGrips', label: 'Finger grips', kind: 'yes-no' },
  { key: 'feet', label: 'Feet', kind: 'yes-no' },
]

export const NO_BOARD_OPTIONS: BoardOptions = { juiceGroove: false, fingerGrips: false, feet: false }

export const readBoardOptions = (form: SpecReader): BoardOptions => ({
  juiceGroove: form.yes('juiceGroove'),
  fingerGrips: form.yes('fingerGrips'),
  feet: form.yes('feet'),
})

export const writeBoardOptions = ({ juiceGroove, fingerGrips, feet }: BoardOptions): SpecInput => ({
  juiceGroove,
  fingerGrips,
  feet,
})

const PRACTICE = 'common practice, no source'

/** Sizes of a small board's groove, grips and feet; all common practice, no source. */
const usualSizes = (units: LengthUnits) => ({
  groove: {
    insetNm: usualSize({ units }, 3 / 4, 20),
    widthNm: usualSize({ units }, 3 / 8, 10),
    deepNm: usualSize({ units }, 3 / 16, 5),
  },
  grip: {
    lengthNm: usualSize({ units }, 4, 100),
    heightNm: usualSize({ units }, 1 / 2, 12),
    deepNm: usualSize({ units }, 3 / 8, 10),
  },
  foot: {
    wideNm: usualSize({ units }, 3 / 4, 20),
    highNm: usualSize({ units }, 1 / 2, 12),
    insetNm: usualSize({ units }, 1, 25),
  },
})

/** The same on a board that is too small for the usual sizes: nothing meets in the middle or goes deeper than a third. */
function sizesOf({ acrossNm, alongNm, thicknessNm, frameAcrossNm, frameAlongNm, units }: BoardSize) {
  const { groove, grip, foot } = usualSizes(units)
  const least = Math.min(acrossNm, alongNm)
  const inner = Math.min(acrossNm - 2 * frameAcrossNm, alongNm - 2 * frameAlongNm)
  const third = Math.floor(thicknessNm / 3)
  return {
    groove: {
      insetNm: Math.min(groove.insetNm, Math.floor(inner / 8)),
      widthNm: Math.min(groove.widthNm, Math.floor(inner / 8)),
      deepNm: Math.min(groove.deepNm, third),
    },
    grip: {
      lengthNm: Math.min(grip.lengthNm, Math.floor(least / 2)),
      heightNm: Math.min(grip.heightNm, third),
      deepNm: Math.min(grip.deepNm, Math.floor(least / 8)),
    },
    foot: {
      wideNm: Math.min(foot.wideNm, Math.floor(least / 6)),
      highNm: foot.highNm,
      insetNm: Math.min(foot.insetNm, Math.floor(least / 8)),
    },
  }
}

export function boardOptionFacts(options: BoardOptions, board: BoardSize, { units }: ShopFacts): Fact[] {
  const say = (nm: number): string => writeLength(nm, units)
  const { groove, grip, foot } = sizesOf(board)
  const fact = (key: string, label: string, text: string, rule: string): Fact => ({
    key,
    label,
    value: { kind: 'text', text },
    rule,
    source: PRACTICE,
  })
  const facts: Fact[] = []
  if (options.juiceGroove)
    facts.push(
      fact(
        'juice-groove',
        'Juice groove',
        `${say(groove.widthNm)} wide, ${say(groove.deepNm)} deep, ${say(groove.insetNm)} in`,
        'a core-box cutter run along a fence; never deeper than a third of the board',
      ),
    )
  if (options.fingerGrips)
    facts.push(
      fact(
        'finger-grips',
        'Finger grips',
        `2, ${say(grip.lengthNm)} long, ${say(grip.deepNm)} deep`,
        'at the middle of both ends, from below; never higher than a third of the board',
      ),
    )
  if (options.feet)
    facts.push(
      fact(
        'feet',
        'Feet',
        `4, ${say(foot.insetNm)} in`,
        `one near each corner, about ${say(foot.highNm)} high; screwed on, so that one that wears out can be changed`,
      ),
    )
  return facts
}

/** What is bought for it, for so many boards. */
export const boardOptionFittings = ({ feet }: BoardOptions, boards: number): Fitting[] =>
  feet
    ? [
        { name: 'Feet', quantity: 4 * boards, note: 'Rubber or silicone, with a hole for the screw.' },
        { name: 'Screws for the feet', quantity: 4 * boards, note: 'Stainless, half as long as the board is thick.' },
      ]
    : []

/** Draws them into the plan and the section of a board, which come in this order. */
export function withBoardOptions(
  [plan, section, ...others]: readonly DrawingView[],
  options: BoardOptions,
  board: BoardSize,
  facts: ShopFacts,
): DrawingView[] {
  if (plan === undefined || section === undefined) return []
  const added = options.feet ? sizesOf(board).foot.highNm : 0
  return [
    {
      ...plan,
      shapes: [...plan.shapes, ...inPlan(options, board)],
      dimensions: [...plan.dimensions, ...planDimensions(options, board, facts)],
    },
    {
      ...section,
      heightNm: section.heightNm + added,
      shapes: [...section.shapes, ...inSection(options, board)],
      dimensions: [...section.dimensions, ...sectionDimensions(options, board, facts)],
    },
    ...others,
  ]
}

/** Grips are at the two ends between which it is longest, where it is carried. */
const isLongAcross = ({ acrossNm, alongNm }: BoardSize): boolean => acrossNm > alongNm

function inPlan(options: BoardOptions, board: BoardSize): Shape[] {
  const { acrossNm, alongNm, frameAcrossNm, frameAlongNm } = board
  const { groove, grip, foot } = sizesOf(board)
  const shapes: Shape[] = []
  if (options.juiceGroove) {
    for (const inset of [groove.insetNm, groove.insetNm + groove.widthNm]) {
      const [x, y] = [frameAcrossNm + inset, frameAlongNm + inset]
      shapes.push(outline(x, y, acrossNm - 2 * x, alongNm - 2 * y, 'Juice groove', 'seen'))
    }
  }
  if (options.fingerGrips) {
    const { lengthNm, deepNm } = grip
    if (isLongAcross(board)) {
      const y = Math.round((alongNm - lengthNm) / 2)
      for (const x of [0, acrossNm - deepNm]) shapes.push(outline(x, y, deepNm, lengthNm, 'Finger grip'))
    } else {
      const x = Math.round((acrossNm - lengthNm) / 2)
      for (const y of [0, alongNm - deepNm]) shapes.push(outline(x, y, lengthNm, deepNm, 'Finger grip'))
    }
  }
  if (options.feet) {
    const { wideNm, insetNm } = foot
    for (const x of [insetNm, acrossNm - insetNm - wideNm])
      for (const y of [insetNm, alongNm - insetNm - wideNm]) shapes.push(outline(x, y, wideNm, wideNm, 'Foot'))
  }
  return shapes
}

function inSection(options: BoardOptions, board: BoardSize): Shape[] {
  const { acrossNm, frameAcrossNm } = board
  const thicknessNm = board.thicknessNm + board.standsOffNm
  const { groove, grip, foot } = sizesOf(board)
  const gone = (x: number, y: number, width: number, height: number, name: string): Shape =>
    rectangle(x, y, width, height, { wood: null, grain: 'none', name })
  const shapes: Shape[] = []
  if (options.juiceGroove) {
    const { insetNm, widthNm, deepNm } = groove
    const left = frameAcrossNm + insetNm
    for (const x of [left, acrossNm - left - widthNm]) shapes.push(gone(x, 0, widthNm, deepNm, 'Juice groove'))
  }
  if (options.fingerGrips) {
    const { lengthNm, heightNm, deepNm } = grip
    const y = thicknessNm - heightNm
    if (isLongAcross(board)) {
      for (const x of [0, acrossNm - deepNm]) shapes.push(gone(x, y, deepNm, heightNm, 'Finger grip'))
    } else shapes.push(outline(Math.round((acrossNm - lengthNm) / 2), y, lengthNm, heightNm, 'Finger grip'))
  }
  if (options.feet) {
    const { wideNm, highNm, insetNm } = foot
    for (const x of [insetNm, acrossNm - insetNm - wideNm]) shapes.push(gone(x, thicknessNm, wideNm, highNm, 'Foot'))
  }
  return shapes
}

function planDimensions({ feet }: BoardOptions, board: BoardSize, facts: ShopFacts): DrawingView['dimensions'] {
  const { insetNm } = sizesOf(board).foot
  return feet ? [dimension('right', 1, 0, insetNm, facts, 'to the feet')] : []
}

function sectionDimensions(
  { juiceGroove, fingerGrips, feet }: BoardOptions,
  board: BoardSize,
  facts: ShopFacts,
): DrawingView['dimensions'] {
  const { groove, grip, foot } = sizesOf(board)
  const { frameAcrossNm } = board
  const thicknessNm = board.thicknessNm + board.standsOffNm
  const left = frameAcrossNm + groove.insetNm
  return [
    ...(juiceGroove
      ? [
          dimension('above', 2, left, left + groove.widthNm, facts, 'groove'),
          dimension('left', 1, 0, groove.deepNm, facts, 'deep'),
        ]
      : []),
    ...(fingerGrips ? [dimension('left', 2, thicknessNm - grip.heightNm, thicknessNm, facts, 'grip')] : []),
    ...(feet ? [dimension('right', 2, thicknessNm, thicknessNm + foot.highNm, facts, 'feet')] : []),
  ]
}
