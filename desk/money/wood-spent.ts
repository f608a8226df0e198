import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Commission, Piece } from '../../core/book/book.ts'
import { sum } from '../../core/money/exact.ts'
import { builtPiece } from '../built-piece.ts'
import type { Moment } from '../moment.ts'
import { woodNeeded } from '../lumber/wood-needed.ts'

/** Wood that an order has taken so far, minor units. */
export interface WoodSpent {
  /** Out of boards whose price was typed. */
  readonly paidMinor: number
  /** Of pieces that were begun with no board said to be cut for them: as the price reckons it. */
  readonly reckonedMinor: number
}

/** Wood that serves nothing else any more. Boards that were bought and not cut serve the next order; the customer's own costs nothing. */
export function woodSpent(commission: Commission, moment: Moment): WoodSpent {
  if (commission.lumber.from === 'customer') return { paidMinor: 0, reckonedMinor: 0 }
  const { byPiece, byOrder } = moment.stock.taken
  const pieces = moment.book.pieces.filter(({ commissionId }) => commissionId === commission.id)
  const used = byOrder.get(commission.id)
  return {
    paidMinor: woodPaid(commission, pieces, moment),
    reckonedMinor:
      used === undefined
        ? sum(pieces.filter(({ id }) => !byPiece.has(id)).map((piece) => reckoned(piece, commission, moment)))
        : 0,
  }
}

/** What the boards that were cut for an order cost, also of one that is closed. */
export const woodPaid = ({ id }: Commission, pieces: readonly Piece[], { stock }: Pick<Moment, 'stock'>): number =>
  (stock.taken.byOrder.get(id) ?? 0) + sum(pieces.map((piece) => stock.taken.byPiece.get(piece.id) ?? 0))

function reckoned(piece: Piece, commission: Commission, moment: Moment): number {
  const steps = moment.stepsOf(commission.id).filter(({ pieceId }) => pieceId === piece.id)
  const begun = steps.some(({ id }) => moment.lagsTo(id).length === 0 && moment.progress(id).kind !== 'to-do')
  if (!begun) return 0
  const facts = shopFactsOf(moment.almanac, commission.takenAtMin, commission.home)
  return woodNeeded(builtPiece(piece, facts).parts, moment).costMinor ?? 0
}
