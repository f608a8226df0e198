import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Field, SpecInput, Units } from '../construction.ts'
import type { MitredFrame } from './mitred-frame.ts'
import type { SpecReader } from './spec-reader.ts'

const FIXINGS = [
  { value: 'middle', label: 'At the middle of each side only' },
  { value: 'all-round', label: 'All round' },
] as const

/** What is asked of a mitred frame. */
export function frameFields(when?: Field['when']): readonly Field[] {
  const only = when === undefined ? {} : { when }
  return [
    { key: 'frameWood', label: 'Frame wood', kind: 'wood', ...only },
    {
      key: 'frameFace',
      label: 'Frame width seen',
      kind: 'length',
      leastNm: inches(1 / 2),
      mostNm: inches(12),
      ...only,
    },
    { key: 'tongue', label: 'Tongue', kind: 'length', leastNm: inches(1 / 8), mostNm: inches(1), ...only },
    { key: 'frameFixing', label: 'Frame glued', kind: 'choice', choices: FIXINGS, ...only },
    { key: 'splines', label: 'Splines across the mitres', kind: 'yes-no', ...only },
  ]
}

export const startingFrame = (units: Units): SpecInput => ({
  frameWood: 'walnut',
  frameFace: units === 'inch' ? '2' : '50',
  tongue: units === 'inch' ? '1/2' : '12',
  frameFixing: 'middle',
  splines: false,
})

export const readFrame = (form: SpecReader): MitredFrame => ({
  wood: form.wood('frameWood'),
  faceNm: form.length('frameFace'),
  tongueNm: form.length('tongue'),
  fixing: form.choice<MitredFrame['fixing']>('frameFixing'),
  splines: form.yes('splines'),
})

export const writeFrame = (frame: MitredFrame, units: Units): SpecInput => ({
  frameWood: frame.wood,
  frameFace: writeLength(frame.faceNm, units),
  tongue: writeLength(frame.tongueNm, units),
  frameFixing: frame.fixing,
  splines: frame.splines,
})
