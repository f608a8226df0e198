import { ok, type Result } from '../../problems.ts'
import type { Field, SpecInput } from '../construction.ts'
import type { FinishFacts, ShopFacts } from '../shop-facts.ts'
import { named } from './products.ts'
import type { SpecReader } from './spec-reader.ts'

/** What of a piece may be finished in its own way: the base of a table, the inside of a box, the underside of a board. */
export type FinishedPart = 'base' | 'inside' | 'underside'

/** A part with a finish of its own, or left bare; absent in a spec: finished like the rest. */
export interface FinishOfPart {
  readonly part?: { readonly finish: string; readonly coats: number | null } | 'bare'
}

/** It as the almanac has it; `finish` null: nothing is put on. */
export interface PartToFinish {
  readonly finish: FinishFacts | null
  readonly coats: number | null
}

const WORDS: Readonly<Record<FinishedPart, { readonly of: string; readonly like: string; readonly hint?: string }>> = {
  base: { of: 'base', like: 'As the top' },
  inside: { of: 'inside', like: 'As outside', hint: 'On sides and bottom, before the glue-up' },
  underside: { of: 'underside', like: 'As on top' },
}

export function finishOfPartFields(part: FinishedPart): readonly Field[] {
  const { of, like, hint } = WORDS[part]
  const when = { key: 'partFinished', is: ['own'] }
  return [
    {
      ...{ key: 'partFinished', label: `Finish of the ${of}`, kind: 'choice', extra: true },
      ...(hint === undefined ? {} : { hint }),
      choices: [
        { value: 'same', label: like },
        { value: 'own', label: 'Its own' },
        { value: 'bare', label: 'None, bare wood' },
      ],
      formerly: { '': 'same' },
    },
    { key: 'partFinish', label: `Finish on the ${of}`, kind: 'finish', extra: true, when },
    {
      ...{ key: 'partCoats', label: `Coats on the ${of}`, kind: 'count', least: 1, most: 12, optional: true },
      ...{ hint: 'Blank = usual number of coats', extra: true, when },
    },
  ]
}

export const startingFinishOfPart = (): SpecInput => ({
  partFinished: 'same',
  partFinish: 'shellac',
  partCoats: '',
})

export function readFinishOfPart(form: SpecReader): FinishOfPart {
  const finished = form.choice<'same' | 'own' | 'bare'>('partFinished')
  if (finished === 'same') return {}
  if (finished === 'bare') return { part: 'bare' }
  return { part: { finish: form.finish('partFinish'), coats: form.optionalCount('partCoats') } }
}

export function writeFinishOfPart({ part }: FinishOfPart): SpecInput {
  if (part === undefined) return startingFinishOfPart()
  if (part === 'bare') return { ...startingFinishOfPart(), partFinished: 'bare' }
  const { finish, coats } = part
  return { partFinished: 'own', partFinish: finish, partCoats: coats === null ? '' : String(coats) }
}

/** Null: like the rest. A problem where its finish is not in the almanac any more. */
export function partToFinish({ part }: FinishOfPart, facts: ShopFacts): Result<PartToFinish | null> {
  if (part === undefined) return ok(null)
  if (part === 'bare') return ok({ finish: null, coats: null })
  const finish = named(facts.finishes, part.finish, 'finish')
  return finish.ok ? ok({ finish: finish.value, coats: part.coats }) : finish
}

/**
 * A face that takes up damp sooner than the other one swells sooner: a wide panel cups.
 * @source common practice, no source
 */
export function unlikeFacesWarning(top: FinishFacts, part: PartToFinish | null): string[] {
  if (part === null || (part.finish !== null && part.finish.film === top.film)) return []
  return [
    `${part.finish === null ? 'A bare underside takes' : 'Under another kind of finish the underside takes'} up damp at another rate than the top: a wide panel cups. Give both faces alike.`,
  ]
}
