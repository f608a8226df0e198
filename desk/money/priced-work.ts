import type { Commission } from '../../core/book/book.ts'
import type { Moment } from '../moment.ts'
import { whoDoes } from '../screens/people-today.ts'
import type { PricedWork } from './price-of-work.ts'

/** A piece as far as its price asks. */
interface PricedPiece extends Pick<PricedWork, 'parts' | 'fittings' | 'consumed'> {
  readonly piece: { readonly pieceId: string; readonly title: string; readonly count: number }
}

/** An order of the book as something that has a price. */
export function pricedWork(
  { id, lumber, priceMinor, extraLines, untaxedWhy }: Commission,
  pieces: readonly PricedPiece[],
  moment: Moment,
): PricedWork {
  const order = { ownWood: lumber.from === 'customer', untaxed: untaxedWhy !== '' }
  const steps = moment.stepsOf(id).map((step) => ({ ...step, who: whoDoes(step.id, moment) }))
  return {
    ...order,
    pieces: pieces.map(({ piece, parts, fittings, consumed }) => ({
      ...{ ...order, title: piece.title, count: piece.count, parts, fittings, consumed },
      steps: steps.filter(({ pieceId }) => pieceId === piece.pieceId),
    })),
    parts: pieces.flatMap(({ parts }) => parts),
    fittings: pieces.flatMap(({ fittings }) => fittings),
    consumed: pieces.flatMap(({ consumed }) => consumed),
    steps,
    count: pieces.length === 1 ? (pieces[0]?.piece.count ?? null) : null,
    typedMinor: priceMinor,
    extraLines,
  }
}
