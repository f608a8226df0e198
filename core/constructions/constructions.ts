import type { PieceUse } from '../cautions/cautions-for-step.ts'
import { box } from './box/box.ts'
import type { Construction, SpecInput, Units } from './construction.ts'
import { edgeGrainBoard } from './edge-grain/edge-grain-board.ts'
import { endGrainBoard } from './end-grain/end-grain-board.ts'
import { framedField } from './framed-field/framed-field.ts'
import { freeList } from './free-list/free-list.ts'
import { makeConstruction } from './own/make-construction.ts'
import type { OwnConstruction } from './own/own-construction.ts'
import type { OwnSpec } from './own/own-values.ts'
import { smallTable } from './small-table/small-table.ts'

/** Every way in which a piece can be built, in the order in which they are offered. */
export const constructions: readonly Construction<unknown>[] = [
  endGrainBoard,
  edgeGrainBoard,
  framedField,
  box,
  smallTable,
  freeList,
]

/** The construction of that id, built in or of the maker's own; undefined where a stored id is unknown to this version. */
export const constructionOf = (id: string, own: readonly OwnConstruction[] = []): Construction<unknown> | undefined =>
  constructionsWith(own).find((construction) => construction.id === id)

/** The construction of a piece in the book; one of the maker's own as it was when the piece was ordered. */
export function constructionOfPiece({ construction, spec }: StoredSpec): Construction<unknown> | undefined {
  return constructionOf(construction) ?? (isOwnSpec(spec) ? makeConstruction(spec.own) : undefined)
}

/**
 * What was typed for a stored piece, as its form takes it; null where its spec cannot be read: damaged, or of a construction that is
 * gone. One such piece must not take a whole list down.
 */
export function typedSpec(piece: StoredSpec, units: Units): SpecInput | null {
  try {
    return constructionOfPiece(piece)?.write(piece.spec, units) ?? null
  } catch (fault) {
    if (fault instanceof TypeError) return null
    throw fault
  }
}

/** What a stored piece is for, as far as it was said of it; undefined: nothing special. */
export function useOf({ construction, spec }: StoredSpec): Exclude<PieceUse, 'other'> | undefined {
  if (isOwnSpec(spec)) return spec.own.isFor
  const said = spec as { readonly food?: boolean; readonly isFor?: Exclude<PieceUse, 'other'> }
  // What a box holds is served; boards are cut on.
  if (said.food === true) return construction === box.id ? 'food' : 'chopping'
  return said.isFor
}

interface StoredSpec {
  readonly construction: string
  readonly spec: unknown
}

const isOwnSpec = (spec: unknown): spec is OwnSpec => typeof spec === 'object' && spec !== null && 'own' in spec

/** The built-in constructions, then those of the maker's own. */
export const constructionsWith = (own: readonly OwnConstruction[]): readonly Construction<unknown>[] =>
  own.length === 0 ? constructions : [...constructions, ...own.map(makeConstruction)]
