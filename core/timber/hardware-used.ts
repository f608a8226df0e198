import type { Fitting } from '../constructions/construction.ts'
import type { SupplyUse } from './consumables-used.ts'
import { priceKeyOf } from './supply-price.ts'

/** Steps at which hardware goes onto a piece; what has none of its own goes on with the last step. */
const FITTED_AT = /^(fit-|mortise-and-tenon$)/

/** Which of them a kind of hardware goes on with, where a lot has several. */
const OWN_STEP: readonly (readonly [string, RegExp])[] = [
  ['fitting:hinges', /^fit-hinges$/],
  ['fitting:feet', /^fit-feet$/],
  ['fitting:fasteners', /^fit-top$/],
  ['fitting:pegs', /^mortise-and-tenon$/],
]

/**
 * Hardware that the done steps of a lot have taken, by its kind. What was lost and made again takes none twice: hardware comes off.
 * @param steps of the lot in their order; `doneAt` null: not done
 */
export function hardwareUsed(
  fittings: readonly Fitting[],
  steps: readonly { readonly operation: string; readonly doneAt: number | null; readonly lost: boolean }[],
): readonly SupplyUse[] {
  const standing = steps.filter(({ lost }) => !lost)
  return fittings.flatMap((fitting): SupplyUse[] => {
    const product = priceKeyOf(fitting)
    if (product === null) return []
    const own = OWN_STEP.find(([key]) => key === product)?.[1]
    const at =
      standing.findLast(({ operation }) => own?.test(operation) === true) ??
      standing.findLast(({ operation }) => FITTED_AT.test(operation)) ??
      standing.at(-1)
    return at === undefined || at.doneAt === null ? [] : [{ product, amount: fitting.quantity, atMin: at.doneAt }]
  })
}
