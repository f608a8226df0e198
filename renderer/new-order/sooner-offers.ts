import type { OfferView } from '../../desk/orders/draft-answer.ts'

/** Only what brings the date nearer than the first one: what costs nobody else a promise comes before what does, each by day. */
export function soonerOffers([best, ...others]: readonly OfferView[]): readonly OfferView[] {
  if (best === undefined) return []
  return others
    .filter((offer) => offer.dayToSay < best.dayToSay)
    .toSorted(
      (one, other) =>
        Number(other.keepsPromises) - Number(one.keepsPromises) || one.dayToSay.localeCompare(other.dayToSay),
    )
}
