import { failed, ok, type Result } from '../../problems.ts'
import type { Field, SpecInput } from '../construction.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from '../shop-facts.ts'
import { named } from './products.ts'
import type { SpecReader } from './spec-reader.ts'

/** What holds a piece together and what is put on it. */
export interface GlueAndFinish {
  readonly glue: string
  readonly finish: string
  /** Null: as many as are usual for the finish. */
  readonly coats: number | null
  /** Panels are glued up in two halves, which are joined when they may be machined; absent: in one go. */
  readonly inHalves?: boolean
  /** Each coat in two: undersides, and tops once those may be turned onto; absent: both in one go. */
  readonly oneSideAtATime?: boolean
}

export const GLUE_AND_FINISH_FIELDS: readonly Field[] = [
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
]

/** @param use water-resistant glue and oil for what touches food, else what is usual on furniture */
export const startingGlueAndFinish = (use: 'food' | 'furniture'): SpecInput => ({
  glue: use === 'food' ? 'pva_type1' : 'pva_type2',
  finish: use === 'food' ? 'mineral_oil_wax' : 'wiping_oil_varnish',
  coats: '',
  inHalves: false,
  oneSideAtATime: false,
})

export const readGlueAndFinish = (form: SpecReader): GlueAndFinish => ({
  glue: form.glue('glue'),
  finish: form.finish('finish'),
  coats: form.optionalCount('coats'),
  ...(form.yes('inHalves') ? { inHalves: true } : {}),
  ...(form.yes('oneSideAtATime') ? { oneSideAtATime: true } : {}),
})

export const writeGlueAndFinish = ({ glue, finish, coats, inHalves, oneSideAtATime }: GlueAndFinish): SpecInput => ({
  glue,
  finish,
  coats: coats === null ? '' : String(coats),
  inHalves: inHalves === true,
  oneSideAtATime: oneSideAtATime === true,
})

/** Both as the almanac has them; a problem where one of them is not there any more. */
export function glueAndFinishOf(
  spec: GlueAndFinish,
  facts: ShopFacts,
): Result<{ readonly glue: GlueFacts; readonly finish: FinishFacts }> {
  const glue = named(facts.glues, spec.glue, 'glue')
  const finish = named(facts.finishes, spec.finish, 'finish')
  if (!glue.ok || !finish.ok) return failed(...(glue.ok ? [] : glue.problems), ...(finish.ok ? [] : finish.problems))
  return ok({ glue: glue.value, finish: finish.value })
}
