import type { Almanac } from '../almanac/almanac.ts'
import type { Consumed } from '../constructions/construction.ts'
import { consumablesNeeded } from './consumables-needed.ts'

/** Glue or finish that a step put on: grams or milliliters, by the published spread. */
export interface SupplyUse {
  /** Of the almanac. */
  readonly product: string
  readonly amount: number
  /** Instant at which the step was done, minutes since the Unix epoch. */
  readonly atMin: number
}

/**
 * What the done steps of a lot have taken: each glue-up its share of the glue, each coat its own finish. A step that was lost and made again took
 * as much both times. Nothing where no spread is published.
 * @param steps of the lot in their order; `doneAt` null: not done
 */
export function consumablesUsed(
  consumed: readonly Consumed[],
  steps: readonly { readonly operation: string; readonly doneAt: number | null; readonly lost: boolean }[],
  almanac: Pick<Almanac, 'glues' | 'finishes'>,
): readonly SupplyUse[] {
  const glueUps = steps.filter(({ operation }) => operation.startsWith('glue-up'))
  const coats = steps.filter(({ operation }) => operation.endsWith('-coat'))
  const wanted = consumed.flatMap((one) =>
    one.kind === 'finish' ? Array.from({ length: one.coats }, (): Consumed => ({ ...one, coats: 1 })) : [],
  )
  const uses = (one: Consumed, share: number, atMin: number): SupplyUse[] =>
    consumablesNeeded([one], almanac).flatMap(({ product, quantity }) =>
      quantity === null ? [] : [{ product, amount: quantity.typical * share, atMin }],
    )
  const planned = Math.max(1, glueUps.filter(({ lost }) => !lost).length)
  let coat = 0
  return [
    ...glueUps.flatMap(({ doneAt }) =>
      doneAt === null ? [] : consumed.flatMap((one) => (one.kind === 'glue' ? uses(one, 1 / planned, doneAt) : [])),
    ),
    ...coats.flatMap(({ doneAt, lost }) => {
      const of = wanted[Math.min(coat, wanted.length - 1)]
      if (!lost) coat += 1
      return doneAt === null || of === undefined ? [] : uses(of, 1, doneAt)
    }),
  ]
}
