import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Fact, Field, SpecInput, Units } from '../construction.ts'
import type { SpecReader } from './spec-reader.ts'

/** Engraving and inlay, charged by themselves (`Almanac.money`); absent: none. */
export interface Decoration {
  readonly engraving?: Engraving
  readonly inlay?: Inlay
}

export interface Engraving {
  /** `outside`: somebody else engraves it, and it is away for so many days. */
  readonly by: 'shop' | 'outside'
  readonly says: string
  readonly days: number
}

export interface Inlay {
  readonly wood: string
  readonly shows: string
  /** What it is cut out of, along and across its grain; absent: not said. */
  readonly lengthNm?: number
  readonly widthNm?: number
}

const engraved = { key: 'engraving', is: ['shop', 'outside'] } as const
const inlaid = { key: 'inlay', is: [true] } as const

const inlaySize = (mostInches: number) =>
  ({ kind: 'length', leastNm: inches(1 / 8), mostNm: inches(mostInches), extra: true, when: inlaid }) as const

export const DECORATION_FIELDS: readonly Field[] = [
  {
    key: 'engraving',
    label: 'Engraving',
    kind: 'choice',
    choices: [
      { value: 'none', label: 'None' },
      { value: 'shop', label: 'In the shop' },
      { value: 'outside', label: 'Sent out' },
    ],
    formerly: { '': 'none' },
    extra: true,
  },
  { key: 'engravingSays', label: 'Engraving says', kind: 'text', extra: true, when: engraved },
  {
    key: 'engravingDays',
    label: 'Back after, days',
    kind: 'count',
    least: 1,
    most: 90,
    extra: true,
    when: { key: 'engraving', is: ['outside'] },
  },
  { key: 'inlay', label: 'Inlay', kind: 'yes-no', extra: true },
  { key: 'inlayWood', label: 'Wood of the inlay', kind: 'wood', extra: true, when: inlaid },
  { key: 'inlayShows', label: 'Inlay shows', kind: 'text', extra: true, when: inlaid },
  { key: 'inlayLength', label: 'Inlay length', hint: 'Along its grain', ...inlaySize(36) },
  { key: 'inlayWidth', label: 'Inlay width', ...inlaySize(12) },
]

export const startingDecoration = (units: Units): SpecInput => ({
  engraving: 'none',
  engravingSays: '',
  engravingDays: '7',
  inlay: false,
  inlayWood: 'maple',
  inlayShows: '',
  inlayLength: units === 'inch' ? '3' : '75',
  inlayWidth: units === 'inch' ? '1' : '25',
})

export function readDecoration(form: SpecReader): Decoration {
  const by = form.choice<Engraving['by'] | 'none'>('engraving')
  const engraving: Engraving | null =
    by === 'none'
      ? null
      : { by, says: form.text('engravingSays'), days: by === 'outside' ? form.count('engravingDays') : 0 }
  return {
    ...(engraving === null ? {} : { engraving }),
    ...(form.yes('inlay') ? { inlay: readInlay(form) } : {}),
  }
}

/** Orders and drafts of before its size was asked do not have one. */
const readInlay = (form: SpecReader): Inlay => ({
  ...{ wood: form.wood('inlayWood'), shows: form.text('inlayShows') },
  ...(form.text('inlayLength') === '' && form.text('inlayWidth') === ''
    ? {}
    : { lengthNm: form.length('inlayLength'), widthNm: form.length('inlayWidth') }),
})

export const writeDecoration = ({ engraving, inlay }: Decoration, units: Units): SpecInput => ({
  ...startingDecoration(units),
  ...(engraving === undefined ? {} : { engraving: engraving.by, engravingSays: engraving.says }),
  ...(engraving?.by === 'outside' ? { engravingDays: String(engraving.days) } : {}),
  ...(inlay === undefined
    ? {}
    : {
        ...{ inlay: true, inlayWood: inlay.wood, inlayShows: inlay.shows },
        inlayLength: inlay.lengthNm === undefined ? '' : writeLength(inlay.lengthNm, units),
        inlayWidth: inlay.widthNm === undefined ? '' : writeLength(inlay.widthNm, units),
      }),
})

const PRACTICE = 'common practice, no source'

/** What is engraved and inlaid, so that it is read beside the sizes. */
export function decorationFacts({ engraving, inlay }: Decoration): Fact[] {
  const fact = (key: string, label: string, text: string, rule: string): Fact => ({
    key,
    label,
    value: { kind: 'text', text },
    rule,
    source: PRACTICE,
  })
  return [
    ...(engraving === undefined
      ? []
      : [
          fact(
            'engraving',
            'Engraving',
            engraving.says === '' ? 'Ask what it says' : engraving.says,
            engraving.by === 'outside'
              ? `sent out after sanding, back after ${engraving.days} ${engraving.days === 1 ? 'day' : 'days'}, then finished`
              : 'after sanding, before the first coat',
          ),
        ]),
    ...(inlay === undefined
      ? []
      : [fact('inlay', 'Inlay', inlay.shows === '' ? 'Ask what it shows' : inlay.shows, 'let in before the sanding')]),
  ]
}
