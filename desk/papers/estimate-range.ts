import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Taxed } from '../../core/money/sales-tax.ts'
import { builtPiece } from '../built-piece.ts'
import { billOf } from '../money/order-money.ts'
import { pricedWork } from '../money/priced-work.ts'
import { priceOfWork } from '../money/price-of-work.ts'
import type { PaperSource } from './paper-source.ts'

/** What an order's estimate comes to if its hours run long; or why it has one price alone. */
export type EstimateRange =
  | { readonly kind: 'range'; readonly longer: Taxed }
  | { readonly kind: 'one-price'; readonly missing: readonly string[] }

/**
 * The upper end of an estimate: the price as typed, and on top what the hours of 4 cases in 5 cost more than the planned ones by the
 * facts of the almanac, with tax. There is none while a fact is missing, or where more hours make no other price.
 */
export function estimateRange({ commission, moment, remakes }: PaperSource): EstimateRange {
  const { almanac, wording } = moment
  const facts = shopFactsOf(almanac, moment.now, commission.home)
  const pieces = moment.book.pieces
    .filter(({ commissionId }) => commissionId === commission.id)
    .map((piece) => ({ piece: { ...piece, pieceId: piece.id }, ...builtPiece(piece, facts) }))
  const price = priceOfWork(pricedWork(commission, pieces, moment), { almanac, wording, remakes })
  const moreMinor = price.upToMinor - price.askedMinor
  if (price.missing.length > 0 || moreMinor <= 0) return { kind: 'one-price', missing: price.missing }
  const longer = billOf({ ...commission, priceMinor: (commission.priceMinor ?? 0) + moreMinor }, almanac)
  return longer === null ? { kind: 'one-price', missing: [] } : { kind: 'range', longer }
}
