import { operationKind, type Operation } from '../almanac/operations.ts'
import type { Fitting } from '../constructions/construction.ts'
import type { SupplyUse } from './consumables-used.ts'
import { priceKeyOf } from './supply-price.ts'

/** What a kind of hardware goes on with, where a lot has several steps at which parts are fitted. */
const OWN_OPERATION: ReadonlyMap<string, Operation> = new Map([
  ['fitting:hinges', 'fit-hinges'],
  ['fitting:feet', 'fit-feet'],
  ['fitting:fasteners', 'fit-top'],
  ['fitting:pegs', 'mortise-and-tenon'],
])

/**
 * Hardware that the done steps of a lot have taken, by its kind; what is fitted nowhere goes on with the last step. What was lost and made again takes none twice: hardware comes off.
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
    const own = OWN_OPERATION.get(product)
    const at =
      standing.findLast(({ operation }) => operation === own) ??
      standing.findLast(({ operation }) => operationKind(operation) === 'fitting') ??
      standing.at(-1)
    return at === undefined || at.doneAt === null ? [] : [{ product, amount: fitting.quantity, atMin: at.doneAt }]
  })
}
