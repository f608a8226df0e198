import type { DraftAnswer, OfferView } from '../../desk/orders/draft-answer.ts'

/** A date that stayed the same keeps its odds until they are worked out anew, so that typing a name does not make them flicker. */
export function withOddsKept(answer: DraftAnswer, before: DraftAnswer | null): DraftAnswer {
  if (before === null) return answer
  const kept = answer.offers.map((offer) => {
    const known = before.offers.find((one) => isSame(one, offer))
    return known === undefined
      ? offer
      : {
          ...offer,
          ...{ odds: known.odds, dayToSay: known.dayToSay, chance: known.chance, safeDay: known.safeDay },
          // Whether others are kept goes with the odds: by the plan alone it would be another answer.
          ...(known.odds === null ? {} : { keepsPromises: known.keepsPromises, lessSure: known.lessSure }),
        }
  })
  return withMoreKept({ ...answer, offers: kept }, before)
}

/** So do the dates with more hours, as long as what they are compared with stays the same. */
export function withMoreKept(answer: DraftAnswer, before: DraftAnswer | null): DraftAnswer {
  const [first] = answer.offers
  const [known] = before?.offers ?? []
  if (first === undefined || known === undefined || !isSame(first, known)) return answer
  return { ...answer, offers: [...answer.offers, ...(before?.offers ?? []).filter(({ kind }) => kind === 'with-more')] }
}

const isSame = (one: OfferView, other: OfferView): boolean =>
  one.kind === other.kind && one.takes === other.takes && one.doneAt === other.doneAt
