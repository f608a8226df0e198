import type { Fact, Field, SpecInput } from '../construction.ts'
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
}

const engraved = { key: 'engraving', is: ['shop', 'outside'] } as const
const inlaid = { key: 'inlay', is: [true] } as const

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
]

export const startingDecoration = (): SpecInput => ({
  engraving: 'none',
  engravingSays: '',
  engravingDays: '7',
  inlay: false,
  inlayWood: 'maple',
  inlayShows: '',
})

export function readDecoration(form: SpecReader): Decoration {
  const by = form.choice<Engraving['by'] | 'none'>('engraving')
  const engraving: Engraving | null =
    by === 'none'
      ? null
      : { by, says: form.text('engravingSays'), days: by === 'outside' ? form.count('engravingDays') : 0 }
  return {
    ...(engraving === null ? {} : { engraving }),
    ...(form.yes('inlay') ? { inlay: { wood: form.wood('inlayWood'), shows: form.text('inlayShows') } } : {}),
  }
}

export const writeDecoration = ({ engraving, inlay }: Decoration): SpecInput => ({
  ...startingDecoration(),
  ...(engraving === undefined ? {} : { engraving: engraving.by, engravingSays: engraving.says }),
  ...(engraving?.by === 'outside' ? { engravingDays: String(engraving.days) } : {}),
  ...(inlay === undefined ? {} : { inlay: true, inlayWood: inlay.wood, inlayShows: inlay.shows }),
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
