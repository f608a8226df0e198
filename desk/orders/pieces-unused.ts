import type { Order } from '../../db/commissions.ts'
import type { Moment } from '../moment.ts'
import { lotInWords } from '../piece-label.ts'
import { placesInWords } from '../screens/places-in-words.ts'
import type { ChangedOrder } from './changed-order.ts'

/** Pieces that stand in the shop and that a changed order has no use for. */
export interface PiecesUnused {
  readonly count: number
  readonly piece: string
  readonly lot: string | null
  /** The last step that was done at them. */
  readonly upTo: string
  /** "Clamps 1–10": where they are taken out, as those come free; empty: they hold nothing. */
  readonly places: string
}

/** Lot by lot where none of the work counts any more, or where what still stands in its place is lost. */
export function piecesUnused(old: Order, { lost, counting }: ChangedOrder, moment: Moment): PiecesUnused[] {
  const [gone, kept] = [new Set(lost), new Set(counting)]
  return old.pieces.flatMap((piece) => {
    const steps = old.steps.filter(({ pieceId }) => pieceId === piece.id)
    return [...Map.groupBy(steps, ({ lot }) => lot).values()].flatMap((lot) => {
      const last = lot.filter(({ id }) => gone.has(id)).at(-1)
      if (last === undefined) return []
      const places = placesInWords(
        lot.flatMap(({ id }) => (gone.has(id) ? [id] : [])),
        moment,
      )
      if (places === '' && lot.some(({ id }) => kept.has(id))) return []
      const count = moment.piecesLeft(last)
      return [{ count, piece: piece.title, lot: lotInWords(last, piece.count), upTo: last.name, places }]
    })
  })
}
