import type { Part } from '../construction.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { PieceFacts } from '../steps/network.ts'
import { weightOf } from './weight.ts'

/** What the cautions at the steps of a lot of equal pieces depend on: its woods, what it is for, how heavy one is. */
export function pieceFactsOf(
  parts: readonly Part[],
  pieces: number,
  isFor: PieceFacts['isFor'],
  facts: ShopFacts,
): PieceFacts {
  const kg = weightOf(parts, facts)
  return {
    woods: [...new Set(parts.map(({ wood }) => facts.woods.find(({ id }) => id === wood)?.species ?? wood))],
    isFor,
    ...(kg === null ? {} : { kg: kg / pieces }),
  }
}
