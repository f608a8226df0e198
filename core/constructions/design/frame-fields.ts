import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Field, SpecInput, Units } from '../construction.ts'
import type { FrameFixing, FrameUnder, MitredFrame } from './mitred-frame.ts'
import type { SpecReader } from './spec-reader.ts'

const FIXINGS = {
  ends: { value: 'ends', label: 'Middle of the two ends' },
  'one-side': { value: 'one-side', label: 'Middle of one side' },
  dry: { value: 'dry', label: 'Dry, with spacers' },
  'all-round': { value: 'all-round', label: 'All round (can’t move)' },
} as const satisfies Record<FrameFixing, { value: FrameFixing; label: string }>

/** Where a field may be held: staves move across the grain only, end grain both ways. */
const FIXINGS_OF = {
  staves: {
    choices: [FIXINGS.ends, FIXINGS['one-side'], FIXINGS.dry, FIXINGS['all-round']],
    hint: 'Opposite sides hold each other: glue both long sides and the field is locked.',
  },
  'end-grain': {
    choices: [FIXINGS.dry, FIXINGS['one-side'], FIXINGS['all-round']],
    hint: 'End grain moves both ways: hold it at one side at most.',
    formerly: { middle: 'dry' },
  },
} as const

/** The key under which the fixing of such a field is asked. */
const fixingKey = (field: keyof typeof FIXINGS_OF): string => (field === 'staves' ? 'staveFixing' : 'frameFixing')

export const fixingField = (field: keyof typeof FIXINGS_OF, when?: Field['when']): Field => ({
  key: fixingKey(field),
  label: 'Field glued',
  kind: 'choice',
  ...FIXINGS_OF[field],
  ...(when === undefined ? {} : { when }),
})

/** What is asked of a mitered frame. @param fixings how its field may be held, from `fixingField` */
export function frameFields(fixings: readonly Field[], when?: Field['when']): readonly Field[] {
  const only = when === undefined ? {} : { when }
  return [
    { key: 'frameWood', label: 'Frame wood', kind: 'wood', ...only },
    {
      key: 'frameFace',
      label: 'Frame face width',
      kind: 'length',
      leastNm: inches(1 / 2),
      mostNm: inches(12),
      ...only,
    },
    { key: 'tongue', label: 'Tongue', kind: 'length', leastNm: inches(1 / 8), mostNm: inches(1), ...only },
    ...fixings,
    { key: 'splines', label: 'Splines across the miters', kind: 'yes-no', ...only },
    { key: 'splineWood', label: 'Wood of the splines', kind: 'wood', when: { key: 'splines', is: [true] } },
    {
      key: 'under',
      label: 'Underside of the frame',
      kind: 'choice',
      choices: UNDERSIDES,
      formerly: { '': 'flush' },
      extra: true,
      ...only,
    },
    {
      key: 'underBy',
      label: 'By',
      kind: 'length',
      leastNm: inches(1 / 32),
      mostNm: inches(2),
      extra: true,
      when: { key: 'under', is: ['raised', 'beveled'] },
    },
  ]
}

const UNDERSIDES = [
  { value: 'flush', label: 'Flush with the field' },
  { value: 'raised', label: 'Raised off the table' },
  { value: 'beveled', label: 'Beveled below' },
] as const satisfies readonly { readonly value: FrameUnder['kind'] | 'flush'; readonly label: string }[]

export const startingFrame = (units: Units): SpecInput => ({
  frameWood: 'walnut',
  frameFace: units === 'inch' ? '2' : '50',
  tongue: units === 'inch' ? '1/2' : '12',
  frameFixing: 'dry',
  staveFixing: 'ends',
  splines: false,
  splineWood: 'maple',
  under: 'flush',
  underBy: units === 'inch' ? '1/4' : '6',
})

export const readFrame = (form: SpecReader, field: keyof typeof FIXINGS_OF): MitredFrame => ({
  wood: form.wood('frameWood'),
  faceNm: form.length('frameFace'),
  tongueNm: form.length('tongue'),
  fixing: readFixing(form, field),
  splines: form.yes('splines'),
  ...(form.yes('splines') && form.text('splineWood') !== '' ? { splineWood: form.wood('splineWood') } : {}),
  ...readUnder(form),
})

function readUnder(form: SpecReader): Pick<MitredFrame, 'under'> {
  const kind = form.choice<FrameUnder['kind'] | 'flush'>('under')
  return kind === 'flush' ? {} : { under: { kind, nm: form.length('underBy') } }
}

/** A bevel leaves at least a third of the edge, and no more is cut off below than the face is wide. */
export function refuseDeepBevel(form: SpecReader, frame: MitredFrame, thicknessNm: number, units: Units): void {
  const mostNm = Math.min(Math.floor((thicknessNm * 2) / 3), frame.faceNm)
  if (frame.under?.kind !== 'beveled' || !(frame.under.nm > mostNm)) return
  form.refuse('bevel-too-high', `By: a bevel takes at most ${writeLength(mostNm, units)} here.`, 'underBy')
}

/** Orders of before fields of staves were asked apart hold theirs under the other key. */
function readFixing(form: SpecReader, field: keyof typeof FIXINGS_OF): FrameFixing {
  if (field === 'staves' && form.text('staveFixing') === '')
    return form.text('frameFixing') === 'all-round' ? 'all-round' : 'ends'
  return form.choice<FrameFixing>(fixingKey(field))
}

export const writeFrame = (frame: MitredFrame, field: keyof typeof FIXINGS_OF, units: Units): SpecInput => ({
  frameWood: frame.wood,
  frameFace: writeLength(frame.faceNm, units),
  tongue: writeLength(frame.tongueNm, units),
  [fixingKey(field)]: frame.fixing,
  splines: frame.splines,
  ...(frame.splines ? { splineWood: frame.splineWood ?? frame.wood } : {}),
  under: frame.under?.kind ?? 'flush',
  ...(frame.under === undefined ? {} : { underBy: writeLength(frame.under.nm, units) }),
})
