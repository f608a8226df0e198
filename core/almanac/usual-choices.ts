import type { Construction, SpecInput, Units } from '../constructions/construction.ts'
import { classOf } from '../waits/product.ts'
import type { Almanac } from './almanac.ts'

/**
 * How a piece of this construction begins in this shop: with the wood and the finish used most, where they suit. A wood that the piece has
 * already elsewhere changes places; a finish that is no use on a chopping face is left to what is.
 */
export function startingIn(construction: Construction<unknown>, units: Units, almanac: Almanac | null): SpecInput {
  const starting = construction.starting(units)
  if (almanac === null) return starting
  const { wood, finish } = almanac.usual
  const woods = construction.fields.filter(({ kind }) => kind === 'wood').map(({ key }) => key)
  const [first] = woods
  const known = almanac.woods.some(({ id }) => id === wood)
  const changed = { ...starting }
  if (first !== undefined && known) {
    const same = woods.find((key) => key !== first && starting[key] === wood)
    if (same !== undefined && starting[first] !== undefined) changed[same] = starting[first]
    changed[first] = wood
  }
  if ('finish' in starting && suits(almanac, finish, starting['food'] === true)) changed['finish'] = finish
  return changed
}

function suits(almanac: Almanac, finish: string, food: boolean): boolean {
  const product = almanac.finishes.find(({ id }) => id === finish)
  const of = product === undefined ? null : classOf(product)
  if (of?.kind !== 'finish') return false
  return !food || of.finish.onFoodPieces === 'chopping faces and trays'
}
