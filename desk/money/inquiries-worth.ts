import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { builtPiece } from '../built-piece.ts'
import type { Moment } from '../moment.ts'
import { leftByHour } from './price-of-work.ts'
import { pricedWork } from './priced-work.ts'

/** An inquiry with what an hour of it would bring. */
export interface InquiryWorth {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  /** What its price leaves by the hands-on hour after wood and supplies, before tax. */
  readonly perHourMinor: number
}

/** Inquiries that have a price, the one first that brings most by the hour: which to take when evenings are scarce. */
export function inquiriesWorth(moment: Moment): InquiryWorth[] {
  const { book, almanac } = moment
  return book.commissions
    .filter(({ standing, priceMinor }) => standing === 'asked-about' && priceMinor !== null)
    .flatMap((commission): InquiryWorth[] => {
      const facts = shopFactsOf(almanac, moment.now, commission.home)
      const pieces = book.pieces
        .filter(({ commissionId }) => commissionId === commission.id)
        .map((piece) => ({ piece: { ...piece, pieceId: piece.id }, ...builtPiece(piece, facts) }))
      const perHourMinor = leftByHour(pricedWork(commission, pieces, moment), almanac)
      if (perHourMinor === null) return []
      return [
        { commissionId: commission.id, number: commission.number, customer: commission.customer.name, perHourMinor },
      ]
    })
    .toSorted((a, b) => b.perHourMinor - a.perHourMinor || a.number - b.number)
}
