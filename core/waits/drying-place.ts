import { problem, type Problem } from '../problems.ts'
import { classOf, type Product } from './product.ts'

/**
 * Where pieces may dry beside the shop: a heated room in which nobody lives or eats, the house, a closed box with a heater in it.
 */
export type PlaceKind = 'room' | 'house' | 'warm-box'

/**
 * Why a glue or finish should not dry in a place of this kind; null where nothing speaks against it. What its label says comes
 * first, and no answer here says that a place is safe.
 * @source solvent vapor and heaters: makers' labels, 29 CFR 1910.94(c) and 1910.107(a)(2), (c); formaldehyde: Forest
 * Technologies, Conversion Varnishes; isocyanates: maker's label; away from food and children: common practice, no source
 */
export function placeHold(product: Product, kind: PlaceKind): Problem | null {
  const of = classOf(product)
  const cautions = of?.kind === 'finish' ? of.finish.cautions : (of?.glue.cautions ?? [])
  const harm = HARMFUL.find(({ caution }) => cautions.includes(caution))
  if (harm === undefined || kind === 'room') return null
  if (kind === 'house') {
    const away = 'Keep it away from where people live, eat and sleep.'
    return problem('not-in-the-house', `${product.name} gives off ${harm.gives}. ${away}`)
  }
  if (!harm.burns) return null
  return problem('not-near-a-heater', `${product.name} gives off ${harm.gives}. Its vapor can burn: no heater near it.`)
}

/** Cautions of glues and finishes that tell of fumes, worst first. */
const HARMFUL = [
  { caution: 'spray', gives: 'solvent', burns: true },
  { caution: 'vapour', gives: 'solvent', burns: true },
  { caution: 'catalysed', gives: 'formaldehyde', burns: false },
  { caution: 'isocyanate', gives: 'isocyanates', burns: false },
] as const
