import type { LocalDay } from '../time/local-day.ts'

/**
 * A day that was given, or only quoted, to a customer: written when it is given and never changed afterwards. Another day is
 * another record. Days are local civil days `YYYY-MM-DD`.
 */
export interface PromiseRecord {
  readonly commissionId: string
  /** `quote`: told to somebody who only asked; nothing is kept free for it. */
  readonly kind: 'promise' | 'quote'
  readonly givenAtMs: number
  /** Done by the end of this day; null: the promise was taken away. */
  readonly day: LocalDay | null
  /** Chance that it is done by the end of the day, 0..1, as worked out when the day was given; null: nobody worked it out. */
  readonly chance: number | null
  /** The same if no order were taken afterwards: what the guard holds other orders to; null: nobody worked it out. */
  readonly chanceAlone: number | null
  /** Days by whose end it was done 1 in 2, 4 in 5 and 19 in 20 times, as worked out then. */
  readonly days: OddsDays | null
  /** Day on which the plan of that moment had it done. */
  readonly plannedDay: LocalDay | null
  readonly offer: OfferTaken | null
  /** Times that the chance was worked out with: those of the book, or the maker's own as learned from the log. */
  readonly times: 'book' | 'learned'
  readonly wantedBy: 'customer' | 'maker'
  readonly why: string
  /** Last day on which a quote can be taken up; null for a promise. */
  readonly goodUntil: LocalDay | null
}

export interface OddsDays {
  readonly half: LocalDay
  readonly fourInFive: LocalDay
  readonly nineteenInTwenty: LocalDay
}

/** Which offer the day came from: one of the planner's, or a day that somebody chose. */
export interface OfferTaken {
  readonly kind: 'keeps-every-promise' | 'soonest' | 'with-more' | 'own-day'
  /** What it takes, as it was told; empty for a day that somebody chose. */
  readonly takes: string
}

/** A record before it belongs to an order. */
export type NewPromise = Omit<PromiseRecord, 'commissionId' | 'givenAtMs'>

/** Whether a day comes after the one by which the customer needs it; not where either is not said. */
export const isAfterNeed = (day: LocalDay | null, neededBy: LocalDay | null): boolean =>
  day !== null && neededBy !== null && day > neededBy

/** The promise that an order has, with what was stated about it; null without one. */
export function standingPromise(
  commission: { readonly id: string; readonly promisedFor: LocalDay | null },
  records: readonly PromiseRecord[],
): PromiseRecord | null {
  const last = records.findLast((record) => record.commissionId === commission.id && record.kind === 'promise')
  return last !== undefined && last.day !== null && last.day === commission.promisedFor ? last : null
}

/** The newest quote that was told about an order; null without one. */
export const lastQuote = (commissionId: string, records: readonly PromiseRecord[]): PromiseRecord | null =>
  records.findLast((record) => record.commissionId === commissionId && record.kind === 'quote') ?? null
