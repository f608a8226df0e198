import type { BoardTaken } from '../core/timber/wood-taken.ts'
import type { Db } from './schema.ts'

/** Boards with a price that are cut or used up, with what came out of them. An offcut is a board of its own and carries its own price. */
export async function boardsTaken(db: Db): Promise<BoardTaken[]> {
  const boards = await db
    .selectFrom('board')
    .leftJoin('board as offcut', 'offcut.cut_from', 'board.id')
    .select(['board.id', 'board.price_minor', 'board.bought_for'])
    .select((of) => of.fn.sum<number | null>('offcut.price_minor').as('offcuts_minor'))
    .where('board.standing', '!=', 'on-hand')
    .where('board.price_minor', 'is not', null)
    .groupBy('board.id')
    .orderBy('board.number')
    .execute()
  const parts = Map.groupBy(
    await db.selectFrom('part_cut').selectAll().orderBy('board_id').orderBy('position').execute(),
    ({ board_id }) => board_id,
  )
  return boards.map(({ id, price_minor, offcuts_minor, bought_for }) => ({
    minor: (price_minor ?? 0) - (offcuts_minor ?? 0),
    boughtFor: bought_for,
    parts: (parts.get(id) ?? []).map((part) => ({
      pieceId: part.piece_id,
      ...{ lot: part.lot, isLost: part.lost === 1, quantity: part.quantity },
      lengthNm: part.length_nm,
      widthNm: part.width_nm,
    })),
  }))
}
