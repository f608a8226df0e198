import type { Construction, SpecInput } from '../../core/constructions/construction.ts'
import type { Drawing } from '../../core/constructions/drawing.ts'
import type { ShopFacts } from '../../core/constructions/shop-facts.ts'

/** The drawing of a piece from the texts of its form; null while they make no sense, or where nothing is known of its shape. */
export function drawingOf(
  construction: Construction<unknown> | undefined,
  input: SpecInput,
  facts: ShopFacts | null,
): Drawing | null {
  if (construction === undefined || facts === null) return null
  const spec = construction.read(input, facts.units, facts)
  return spec.ok ? construction.draw(spec.value, facts) : null
}
