import type { Piece } from '../core/book/book.ts'
import { constructionOfPiece, typedSpec } from '../core/constructions/constructions.ts'
import { buildLots, type LotsBuild } from '../core/constructions/lots.ts'
import type { ShopFacts } from '../core/constructions/shop-facts.ts'

/** What goes into a piece. */
export type BuiltPiece = Pick<LotsBuild, 'parts' | 'fittings' | 'consumed'>

const NOTHING: BuiltPiece = { parts: [], fittings: [], consumed: [] }

/** What goes into a piece of the book as its construction makes it; nothing where its spec cannot be read or made any more. */
export function builtPiece(piece: Pick<Piece, 'construction' | 'spec' | 'count'>, facts: ShopFacts): BuiltPiece {
  const construction = typedSpec(piece, facts.units) === null ? undefined : constructionOfPiece(piece)
  const build = construction && buildLots(construction, piece.spec, piece.count, facts)
  return build?.ok === true ? build.value : NOTHING
}
