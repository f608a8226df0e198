import { failed, ok, type Result } from '../../problems.ts'
import type { Field, SpecInput } from '../construction.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from '../shop-facts.ts'
import {
  finishOfPartFields,
  partToFinish,
  readFinishOfPart,
  startingFinishOfPart,
  writeFinishOfPart,
  type FinishedPart,
  type FinishOfPart,
  type PartToFinish,
} from './finish-of-part.ts'
import { named } from './products.ts'
import type { SpecReader } from './spec-reader.ts'

/** What holds a piece together and what is put on it. */
export interface GlueAndFinish extends FinishOfPart {
  readonly glue: string
  readonly finish: string
  /** Null: as many as are usual for the finish. */
  readonly coats: number | null
  /** Panels are glued up in two halves, which are joined when they may be machined; absent: in one go. */
  readonly inHalves?: boolean
  /** Each coat in two: undersides, and tops once those may be turned onto; absent: both in one go. */
  readonly oneSideAtATime?: boolean
}

/** @param part what of the piece may be finished in its own way */
export const glueAndFinishFields = (part: FinishedPart): readonly Field[] => [
  { key: 'glue', label: 'Glue', kind: 'glue' },
  { key: 'inHalves', label: 'Glue up in two halves', kind: 'yes-no', extra: true },
  { key: 'finish', label: 'Finish', kind: 'finish' },
  {
    key: 'coats',
    label: 'Coats',
    hint: 'Blank = usual number of coats',
    kind: 'count',
    least: 1,
    most: 12,
    optional: true,
  },
  { key: 'oneSideAtATime', label: 'Coat one side at a time', kind: 'yes-no', extra: true },
  ...finishOfPartFields(part),
]

/** @param use water-resistant glue and oil for what touches food, else what is usual on furniture */
export const startingGlueAndFinish = (use: 'food' | 'furniture'): SpecInput => ({
  glue: use === 'food' ? 'pva_type1' : 'pva_type2',
  finish: use === 'food' ? 'mineral_oil_wax' : 'wiping_oil_varnish',
  coats: '',
  inHalves: false,
  oneSideAtATime: false,
  ...startingFinishOfPart(),
})

export const readGlueAndFinish = (form: SpecReader): GlueAndFinish => ({
  glue: form.glue('glue'),
  finish: form.finish('finish'),
  coats: form.optionalCount('coats'),
  ...(form.yes('inHalves') ? { inHalves: true } : {}),
  ...(form.yes('oneSideAtATime') ? { oneSideAtATime: true } : {}),
  ...readFinishOfPart(form),
})

export const writeGlueAndFinish = (spec: GlueAndFinish): SpecInput => ({
  glue: spec.glue,
  finish: spec.finish,
  coats: spec.coats === null ? '' : String(spec.coats),
  inHalves: spec.inHalves === true,
  oneSideAtATime: spec.oneSideAtATime === true,
  ...writeFinishOfPart(spec),
})

/** What a piece is glued and finished with; `part` null: all of it alike. */
export interface GlueAndFinishes {
  readonly glue: GlueFacts
  readonly finish: FinishFacts
  readonly part: PartToFinish | null
}

/** All of it as the almanac has it; a problem where one of them is not there any more. */
export function glueAndFinishOf(spec: GlueAndFinish, facts: ShopFacts): Result<GlueAndFinishes> {
  const glue = named(facts.glues, spec.glue, 'glue')
  const finish = named(facts.finishes, spec.finish, 'finish')
  const part = partToFinish(spec, facts)
  if (!glue.ok || !finish.ok || !part.ok)
    return failed(...[glue, finish, part].flatMap((one) => (one.ok ? [] : one.problems)))
  return ok({ glue: glue.value, finish: finish.value, part: part.value })
}
