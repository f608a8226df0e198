import { operationKind } from '../almanac/operations.ts'
import type { Almanac } from '../almanac/almanac.ts'
import type { Consumed } from '../constructions/construction.ts'
import { coatsByPart, isFirstSide, shareOfCoat, type CoatStep } from './coat-steps.ts'
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
  steps: readonly (CoatStep & { readonly doneAt: number | null; readonly lost: boolean })[],
  almanac: Pick<Almanac, 'glues' | 'finishes'>,
): readonly SupplyUse[] {
  const glueUps = steps.filter(({ operation }) => operationKind(operation) === 'glue-up')
  const uses = (one: Consumed, share: number, atMin: number): SupplyUse[] =>
    consumablesNeeded([one], almanac).flatMap(({ product, quantity }) =>
      quantity === null ? [] : [{ product, amount: quantity.typical * share, atMin }],
    )
  const planned = Math.max(1, glueUps.filter(({ lost }) => !lost).length)
  return [
    ...glueUps.flatMap(({ doneAt }) =>
      doneAt === null ? [] : consumed.flatMap((one) => (one.kind === 'glue' ? uses(one, 1 / planned, doneAt) : [])),
    ),
    ...coatsByPart(consumed, steps).flatMap(({ finishes, steps: coats }) => {
      const wanted = finishes.flatMap((one) => Array.from({ length: one.coats }, () => ({ ...one, coats: 1 })))
      let coat = 0
      return coats.flatMap((step) => {
        const of = wanted[Math.min(coat, wanted.length - 1)]
        if (!step.lost && !isFirstSide(step)) coat += 1
        return step.doneAt === null || of === undefined ? [] : uses(of, shareOfCoat(step, coats), step.doneAt)
      })
    }),
  ]
}
