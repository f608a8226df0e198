import type { Almanac } from '../../core/almanac/almanac.ts'
import type { Consumed, Fitting } from '../../core/constructions/construction.ts'
import { sum } from '../../core/money/exact.ts'
import type { PriceInput } from '../../core/money/price.ts'
import { consumablesNeeded } from '../../core/timber/consumables-needed.ts'
import { costOfSupply, priceKeyOf } from '../../core/timber/supply-price.ts'

/** Hardware, glue and finish of an order, as far as they have prices. */
export interface SuppliesInPrice {
  readonly hardwareMinor: number
  readonly consumables: PriceInput['consumables']
  /** Hardware that has no price yet. */
  readonly unpriced: readonly string[]
}

/**
 * Hardware at what a piece of it costs. Glue and finish by their amounts where each of them has a price and a published spread; else
 * all of it by the almanac's share.
 */
export function suppliesInPrice(
  { fittings, consumed }: { readonly fittings: readonly Fitting[]; readonly consumed: readonly Consumed[] },
  almanac: Almanac,
): SuppliesInPrice {
  const { supplyPrices, consumablesShare } = almanac.money
  const hardware = fittings.map(({ name, quantity }) => {
    const price = supplyPrices[priceKeyOf({ name }) ?? '']
    return { name, minor: price === undefined ? null : costOfSupply(quantity, price) }
  })
  const needed = consumablesNeeded(consumed, almanac).map(({ product, quantity }) => {
    const price = supplyPrices[product]
    return price === undefined || quantity === null ? null : costOfSupply(quantity.typical, price)
  })
  const known = needed.flatMap((minor) => (minor === null ? [] : [minor]))
  return {
    hardwareMinor: sum(hardware.map(({ minor }) => minor ?? 0)),
    consumables:
      needed.length > 0 && known.length === needed.length
        ? { kind: 'priced', minor: sum(known) }
        : { kind: 'share', rate: consumablesShare },
    unpriced: hardware.flatMap(({ name, minor }) => (minor === null ? [name] : [])),
  }
}
