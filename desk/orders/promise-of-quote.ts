import { capital } from '../../core/capital.ts'
import { isAfterNeed, type NewPromise, type OfferTaken } from '../../core/book/promise.ts'
import { type Addition, chanceAloneBy, chanceBy } from '../../core/planning/index.ts'
import { daysLater, localDay, type LocalDay } from '../../core/time/local-day.ts'
import { sayChance } from '../../core/book/chance.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'
import type { QuotedOffer } from '../planner/planning-request.ts'
import { oddsDays } from '../planner/odds-view.ts'

/** The day that is wanted: the one that the desk quotes at this moment, or one that was chosen or typed. */
export type WantedDay = 'as-quoted' | LocalDay

/** How long a quoted date is good for: two weeks. Common practice, no source. */
export const quoteGoodDays = 14

/** Offers that a day may come from: the chosen one alone, where it takes something that the shop has not, else those that take nothing. */
export function offersToGive(offers: readonly QuotedOffer[], chosen: ChosenOffer | null): readonly QuotedOffer[] {
  const withMore =
    chosen?.kind === 'with-more'
      ? offers.find((offer) => offer.kind.kind === 'with-more' && takesOf(offer) === chosen.takes)
      : undefined
  return withMore === undefined ? offers.filter((offer) => offer.kind.kind !== 'with-more') : [withMore]
}

/** Hours that an offer adds to the shop's, of whom; null: it adds none. */
export const hoursOf = ({ kind }: QuotedOffer): Extract<Addition, { readonly kind: 'hours' }> | null =>
  kind.kind === 'with-more' && kind.addition.kind === 'hours' ? kind.addition : null

/** The day that is said with an offer: 4 chances in 5, and never one before the plan's own; without odds the plan's own. */
export function dayToSay(offer: Pick<QuotedOffer, 'doneAt' | 'odds'>, timeZone: string): LocalDay {
  const planned = localDay(offer.doneAt, timeZone)
  const likely = offer.odds === null ? planned : localDay(offer.odds.reached80, timeZone)
  return likely > planned ? likely : planned
}

/** What an offer takes, in words. */
export function takesOf({ kind }: QuotedOffer): string {
  if (kind.kind === 'with-more') return capital(kind.addition.name)
  return kind.kind === 'soonest' ? 'Before everything else' : 'In turn, hours as they are'
}

/** What a maker who chose an offer says of it. */
export interface ChosenOffer {
  readonly kind: OfferTaken['kind']
  readonly takes: string
}

export interface DayToGive {
  readonly wanted: WantedDay
  /** Given, or only quoted. */
  readonly kind: NewPromise['kind']
  readonly chosen: ChosenOffer | null
}

/**
 * The record of a day that is given, or only quoted, by what the desk offers at this moment. A day of one's own is taken whatever
 * its chance, which is that in the shop as it stands, or with the hours of the offer that was chosen. Null where no day was chosen and none
 * can be offered.
 * @param offers see `offersToGive`
 */
export function promiseOfQuote(
  offers: readonly QuotedOffer[],
  { wanted, kind, chosen }: DayToGive,
  moment: Moment,
  times: NewPromise['times'],
): NewPromise | null {
  const { timeZone } = moment.almanac.shop
  const offered =
    (wanted === 'as-quoted' ? undefined : offers.find((offer) => dayToSay(offer, timeZone) === wanted)) ?? offers[0]
  if (wanted === 'as-quoted' && offered === undefined) return null
  const day = wanted === 'as-quoted' && offered !== undefined ? dayToSay(offered, timeZone) : wanted
  const odds = offered?.odds ?? null
  const isOffered = offered !== undefined && day === dayToSay(offered, timeZone)
  return {
    kind,
    day,
    chance: odds === null ? null : chanceBy(odds, moment.setting.endOfDay(day)),
    chanceAlone: odds === null ? null : chanceAloneBy(odds, moment.setting.endOfDay(day)),
    days: odds === null ? null : oddsDays(odds, timeZone),
    plannedDay: offered === undefined ? null : localDay(offered.doneAt, timeZone),
    offer: isOffered && offered !== undefined ? offerTaken(offered) : (chosen ?? { kind: 'own-day', takes: '' }),
    times,
    wantedBy: 'customer',
    why: '',
    goodUntil: kind === 'quote' ? daysLater(moment.today, quoteGoodDays) : null,
  }
}

/** A day that is offered although some promise gets less sure by it keeps not every promise. */
const offerTaken = (offer: QuotedOffer): ChosenOffer => ({
  kind: offer.kind.kind === 'keeps-every-promise' && !offer.keepsPromises ? 'own-day' : offer.kind.kind,
  takes: takesOf(offer),
})

/** `Promised Sat, Dec 20: 8 chances in 10`; `Quoted ..., good until ...`; `..., after the day they need it (Fri, Dec 12)`. */
export function sayPromise(
  { kind, day, chance, goodUntil }: NewPromise,
  neededBy: LocalDay | null,
  locale: string,
): string {
  if (day === null) return 'No promise date'
  const stated = chance === null ? '' : `: ${sayChance(chance)}`
  const until = goodUntil === null ? '' : `, good until ${writeLocalDay(goodUntil, locale)}`
  const need =
    neededBy === null || !isAfterNeed(day, neededBy)
      ? ''
      : `, after the day they need it (${writeLocalDay(neededBy, locale)})`
  return `${kind === 'promise' ? 'Promised' : 'Quoted'} ${writeLocalDay(day, locale)}${stated}${until}${need}`
}
