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
}

export const GLUE_AND_FINISH_FIELDS: readonly Field[] = [
  { key: 'glue', label: 'Glue', kind: 'glue' },
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
]

/** @param use water-resistant glue and oil for what touches food, else what is usual on furniture */
export const startingGlueAndFinish = (use: 'food' | 'furniture'): SpecInput => ({
  glue: use === 'food' ? 'pva_type1' : 'pva_type2',
  finish: use === 'food' ? 'mineral_oil_wax' : 'wiping_oil_varnish',
  coats: '',
})

export const readGlueAndFinish = (form: SpecReader): GlueAndFinish => ({
  glue: form.glue('glue'),
  finish: form.finish('finish'),
  coats: form.optionalCount('coats'),
})

export const writeGlueAndFinish = ({ glue, finish, coats }: GlueAndFinish): SpecInput => ({
  glue,
  finish,
  coats: coats === null ? '' : String(coats),
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
