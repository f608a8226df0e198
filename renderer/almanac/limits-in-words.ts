import { writeFraction, writeTemperature } from '../../core/almanac/read-figures.ts'
import type { Units } from '../../core/constructions/construction.ts'
import { limitsOf, type Product } from '../../core/waits/product.ts'

/** Between which temperatures and up to which damp a product is put on: `Put it on from 13 °C to 32 °C, up to 85% humidity.` */
export function limitsInWords(product: Product, units: Units): string {
  const limits = limitsOf(product)
  if (limits === null) return ''
  const warmest = Number.isFinite(limits.warmestC) ? ` to ${writeTemperature(limits.warmestC, units)}` : ' on'
  const damp = limits.dampestRh < 1 ? `, up to ${writeFraction(limits.dampestRh)} humidity` : ''
  return `Put it on from ${writeTemperature(limits.coldestC, units)}${warmest}${damp}${limits.fromLabel ? ', says its label' : ''}.`
}
