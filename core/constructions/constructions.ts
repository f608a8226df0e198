import { box } from './box/box.ts'
import type { Construction } from './construction.ts'
import { edgeGrainBoard } from './edge-grain/edge-grain-board.ts'
import { endGrainBoard } from './end-grain/end-grain-board.ts'
import { framedField } from './framed-field/framed-field.ts'
import { freeList } from './free-list/free-list.ts'
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

/** The construction of that id; undefined where a stored id is unknown to this version. */
export const constructionOf = (id: string): Construction<unknown> | undefined =>
  constructions.find((construction) => construction.id === id)
