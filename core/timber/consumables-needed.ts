import type { Almanac } from '../almanac/almanac.ts'
import type { Consumed } from '../constructions/construction.ts'
import { classOf, spreadOf } from '../waits/product.ts'
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
  steps: readonly { readonly operation: string; readonly done: boolean }[],
): readonly Consumed[] {
  const shareLeft = (of: RegExp): number => {
    const all = steps.filter(({ operation }) => of.test(operation))
    return all.length === 0 ? 0 : all.filter(({ done }) => !done).length / all.length
  }
  const put = inOrder(consumed, steps)
  return consumed.flatMap((one): Consumed[] => {
    const coats = put?.get(one)
    if (coats !== undefined) return coats > 0 && one.kind === 'finish' ? [{ ...one, coats }] : []
    const left = shareLeft(one.kind === 'glue' ? /^glue-up/ : /-coat$/)
    if (left === 0) return []
    return [
      one.kind === 'glue'
        ? { ...one, squareMetres: one.squareMetres * left }
        : { ...one, coats: Math.round(one.coats * left) },
    ]
  })
}

/** Coats left of each finish of a schedule, as its coats go on in order; null where the steps do not tell them apart. */
function inOrder(
  consumed: readonly Consumed[],
  steps: readonly { readonly operation: string; readonly done: boolean }[],
): ReadonlyMap<Consumed, number> | null {
  const finishes = consumed.flatMap((one) => (one.kind === 'finish' ? [one] : []))
  const coats = steps.filter(({ operation }) => operation.endsWith('-coat'))
  if (finishes.length < 2 || finishes.reduce((sum, one) => sum + one.coats, 0) !== coats.length) return null
  let done = coats.filter((coat) => coat.done).length
  const left = new Map<Consumed, number>()
  for (const one of finishes) {
    const put = Math.min(done, one.coats)
    done -= put
    left.set(one, one.coats - put)
  }
  return left
}
