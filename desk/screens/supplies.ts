import { isLow, type Supply, type SupplyKind } from '../../core/book/supplies.ts'
import type { ConsumableNeeded } from '../../core/timber/consumables-needed.ts'
import { writeAmount } from '../../core/timber/supply-amount.ts'
import type { Moment } from '../moment.ts'

export interface SupplyDue {
  readonly id: string
  readonly name: string
  /** Local day. */
  readonly expectedOn: string | null
}

/** What is in stock of a glue, a finish or hardware; amounts as they are typed, empty where there is none. */
export interface SupplyLine {
  /** Null: nothing is kept of this product yet. */
  readonly id: string | null
  readonly name: string
  readonly kind: SupplyKind
  readonly productId: string | null
  readonly amount: string
  /** Taken by coats and glue-ups since it was counted, by their published spread. */
  readonly used: string
  readonly reorderAt: string
  /** What the open orders still take, and how much of that is not there. */
  readonly needed: string
  readonly short: string
  readonly isOut: boolean
  /** Local day on which it comes. */
  readonly expectedOn: string | null
  /** It should be here by now. */
  readonly due: boolean
  readonly toBuy: boolean
}

/**
 * The shelf: every glue and finish of the almanac, then hardware by name; what has to be bought comes first.
 * @param left of what is counted, by the id in stock
 */
export function supplyLines(
  needed: readonly ConsumableNeeded[],
  { almanac, stock, today }: Moment,
  left: ReadonlyMap<string, number>,
): SupplyLine[] {
  const { units } = almanac.shop
  const known = new Map(stock.supplies.map((supply) => [supply.productId ?? supply.id, supply]))
  const products = [
    ...almanac.glues.map(({ id, name }) => ({ id, name, kind: 'glue' as const })),
    ...almanac.finishes.map(({ id, name }) => ({ id, name, kind: 'finish' as const })),
  ]
  const line = (supply: Omit<Supply, 'id'> & { readonly id: string | null }): SupplyLine => {
    const need = needed.find(({ product }) => product === supply.productId)?.quantity?.typical ?? 0
    const { id, name, kind, productId, reorderAt, outSince, expectedOn } = supply
    const amount = supply.amount === null ? null : (left.get(id ?? '') ?? supply.amount)
    const used = (supply.amount ?? 0) - (amount ?? 0)
    return {
      ...{ id, name, kind, productId },
      amount: writeAmount(amount, kind, units),
      reorderAt: writeAmount(reorderAt, kind, units),
      needed: need === 0 ? '' : writeAmount(need, kind, units),
      short: amount !== null && amount < need ? writeAmount(need - amount, kind, units) : '',
      isOut: outSince !== null,
      expectedOn,
      due: outSince !== null && (expectedOn === null || expectedOn <= today),
      used: used < 0.05 ? '' : writeAmount(used, kind, units),
      toBuy: isLow({ ...supply, amount }, need),
    }
  }
  return [
    ...products.map(({ id, name, kind }) =>
      line(
        known.get(id) ?? {
          ...{ id: null, name, kind, productId: id, amount: null, reorderAt: null, outSince: null, expectedOn: null },
        },
      ),
    ),
    ...stock.supplies.filter(({ productId }) => productId === null).map(line),
  ].toSorted((a, b) => rank(b) - rank(a))
}

/** What has to be bought, then what the orders take or somebody counts, then the rest of the shelf. */
const rank = ({ toBuy, needed, amount }: SupplyLine): number => (toBuy ? 2 : needed !== '' || amount !== '' ? 1 : 0)
