import type { Almanac } from '../../core/almanac/almanac.ts'
import type { Piece } from '../../core/book/book.ts'
import { changedParts, type ChangedParts } from '../../core/book/changed-parts.ts'
import { constructionOf, constructionOfPiece } from '../../core/constructions/constructions.ts'
import type { ShopFacts } from '../../core/constructions/shop-facts.ts'
import type { ReadPiece } from './draft-work.ts'

/** Parts of one piece that are others than before; null where it is another construction. */
export function partsChanged(old: Piece, now: ReadPiece, almanac: Almanac, facts: ShopFacts): ChangedParts | null {
  if (old.construction !== now.construction) return null
  const [was, is] = [constructionOfPiece(old), constructionOf(now.construction, almanac.constructions)]
  const [before, after] = [was?.build(old.spec, 1, facts), is?.build(now.spec, 1, facts)]
  return before?.ok === true && after?.ok === true ? changedParts(before.value, after.value) : null
}
