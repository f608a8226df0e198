import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Fact, Field, SpecInput, Units } from '../construction.ts'
import { nameOf } from './products.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { frameGeometry, type FrameGeometry, type MitredFrame } from './mitred-frame.ts'
import type { FieldThroughSeasons } from './field-change.ts'
import type { SpecReader } from './spec-reader.ts'

/** One more of the same field, out of the same panels, in a frame of another wood or width. */
export interface OtherFrame {
  readonly wood: string
  readonly faceNm: number
}

/** Every frame of a set, the first one first; each piece of the order is such a set. */
export const framesOf = (frame: MitredFrame, others: readonly OtherFrame[] = []): readonly MitredFrame[] => [
  frame,
  ...others.map((other) => ({ ...frame, ...other })),
]

export const OTHER_FRAMES_FIELD: Field = {
  key: 'otherFrames',
  label: 'More out of the same panel, framed otherwise',
  kind: 'rows',
  columns: [
    { key: 'frameWood', label: 'Frame wood', kind: 'wood' },
    { key: 'frameFace', label: 'Frame face width', kind: 'length', leastNm: inches(1 / 2), mostNm: inches(12) },
  ],
  extra: true,
}

/** More would not be one panel any more. */
export const MOST_OTHER_FRAMES = 7

export function readOtherFrames(form: SpecReader): { readonly otherFrames?: readonly OtherFrame[] } {
  const rows = form.rows('otherFrames')
  if (rows.length > MOST_OTHER_FRAMES)
    form.refuse(
      'too-many-frames',
      `More out of the same panel: at most ${MOST_OTHER_FRAMES}. Add a second piece.`,
      'otherFrames',
    )
  const otherFrames = rows.map((row) => ({ wood: row.wood('frameWood'), faceNm: row.length('frameFace') }))
  return otherFrames.length === 0 ? {} : { otherFrames }
}

export const writeOtherFrames = (others: readonly OtherFrame[] = [], units: Units): SpecInput => ({
  otherFrames: others.map(({ wood, faceNm }) => ({ frameWood: wood, frameFace: writeLength(faceNm, units) })),
})

/** Sizes of the other frames, in order. */
export const otherGeometries = (
  fieldAcrossNm: number,
  fieldAlongNm: number,
  frame: MitredFrame,
  others: readonly OtherFrame[] | undefined,
  change: FieldThroughSeasons,
  facts: ShopFacts,
): readonly FrameGeometry[] =>
  framesOf(frame, others)
    .slice(1)
    .map((other) => frameGeometry(fieldAcrossNm, fieldAlongNm, other, change, facts))

/** Frames beside their sizes. */
export const inPairs = (
  frames: readonly MitredFrame[],
  sizes: readonly FrameGeometry[],
): readonly (readonly [MitredFrame, FrameGeometry])[] =>
  frames.flatMap((frame, index) => {
    const own = sizes[index]
    return own === undefined ? [] : [[frame, own] as const]
  })

/** Outside of each of the others. */
export const otherFrameFacts = (
  others: readonly OtherFrame[] | undefined,
  geometries: readonly FrameGeometry[],
  { woods, units }: ShopFacts,
): Fact[] =>
  geometries.map(({ outsideAcrossNm, outsideAlongNm }, index) => {
    const wood = nameOf(woods, others?.[index]?.wood ?? '').toLowerCase()
    const text = `${writeLength(outsideAcrossNm, units)} by ${writeLength(outsideAlongNm, units)}, ${wood}`
    return {
      ...{ key: `other-frame-${index + 1}`, label: `Outside, frame ${index + 2}`, value: { kind: 'text', text } },
      rule: 'the same field and gaps, its own wood and face width',
      source: 'common practice, no source',
    }
  })
