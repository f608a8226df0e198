import { constructionOf } from '../../core/constructions/constructions.ts'
import type { SpecInput } from '../../core/constructions/construction.ts'
import type { Drawing } from '../../core/constructions/drawing.ts'
import type { ShopFacts } from '../../core/constructions/shop-facts.ts'

/** The drawing of a piece from the texts of its form; null while they make no sense, or where nothing is known of its shape. */
export function drawingOf(construction: string, input: SpecInput, facts: ShopFacts | null): Drawing | null {
  const made = constructionOf(construction)
  if (made === undefined || facts === null) return null
  const spec = made.read(input, facts.units, facts)
  return spec.ok ? made.draw(spec.value, facts) : null
}
