import { operationKind } from '../almanac/operations.ts'
import type { Almanac } from '../almanac/almanac.ts'
import type { Consumed } from '../constructions/construction.ts'
import { classOf, spreadOf } from '../waits/product.ts'
import { coatsByPart, isFirstSide, type CoatsOfPart, type CoatStep } from './coat-steps.ts'
import { finishMillilitres, glueGrams, type Quantity } from './consumables.ts'

/** Glue or finish that open work still takes. */
export interface ConsumableNeeded {
  readonly kind: 'glue' | 'finish'
  /** Of the almanac. */
  readonly product: string
  readonly name: string
  /** Glue: area of the joints. Finish: area of all coats together. */
  readonly squareMetres: number
  /** Grams of glue, millilitres of finish; null where nothing is published of its class. */
  readonly quantity: Quantity | null
}

/** What is still to be put on, the same product together; products that have left the almanac are passed over. */
export function consumablesNeeded(
  consumed: readonly Consumed[],
  { glues, finishes }: Pick<Almanac, 'glues' | 'finishes'>,
): readonly ConsumableNeeded[] {
  const areas = new Map<string, number>()
  for (const one of consumed) {
    const coats = one.kind === 'finish' ? one.coats : 1
    const key = `${one.kind} ${one.product}`
    areas.set(key, (areas.get(key) ?? 0) + coats * one.squareMetres)
  }
  const products = [
    ...glues.map((product) => ({ kind: 'glue' as const, product })),
    ...finishes.map((product) => ({ kind: 'finish' as const, product })),
  ]
  return products.flatMap(({ kind, product }): ConsumableNeeded[] => {
    const squareMetres = areas.get(`${kind} ${product.id}`) ?? 0
    if (squareMetres === 0) return []
    const of = classOf(product)
    const quantity =
      of === null
        ? null
        : of.kind === 'glue'
          ? glueGrams(squareMetres, spreadOf(product))
          : finishMillilitres(squareMetres, of.finish, 1)
    return [{ kind, product: product.id, name: product.name, squareMetres, quantity }]
  })
}

/**
 * What is left of a lot's glue and finish while it is worked on: glue by the share of glue-ups not done, finish by the coats not put on.
 * @param steps of the lot; `done`: it is behind us
 */
export function stillToPutOn(
  consumed: readonly Consumed[],
  steps: readonly (CoatStep & { readonly done: boolean })[],
): readonly Consumed[] {
  const glueUps = steps.filter(({ operation }) => operationKind(operation) === 'glue-up')
  const glueLeft = glueUps.filter(({ done }) => !done).length / Math.max(1, glueUps.length)
  return [
    ...consumed.flatMap((one) =>
      one.kind === 'glue' && glueLeft > 0 ? [{ ...one, squareMetres: one.squareMetres * glueLeft }] : [],
    ),
    ...coatsByPart(consumed, steps).flatMap(coatsLeft),
  ]
}

/** Coats left of each finish of a part, as they go on in order; by their share where the steps are others than were planned. */
function coatsLeft({ finishes, steps }: CoatsOfPart<CoatStep & { readonly done: boolean }>): readonly Consumed[] {
  const coats = steps.filter((step) => !isFirstSide(step))
  const planned = finishes.reduce((sum, one) => sum + one.coats, 0)
  const share = coats.filter(({ done }) => done).length / Math.max(1, coats.length)
  let done = coats.length === 0 ? planned : Math.round(planned * share)
  return finishes.flatMap((one) => {
    const put = Math.min(done, one.coats)
    done -= put
    return put === one.coats ? [] : [{ ...one, coats: one.coats - put }]
  })
}
