import type { NewPromise } from '../../core/book/promise.ts'
import { chanceAloneBy, chanceBy } from '../../core/planning/index.ts'
import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { timesInUse } from '../planner/forecast.ts'
import { oddsDays } from '../planner/odds-view.ts'
import { dateOf } from '../screens/outlook.ts'
import { hoursOf, offersToGive, promiseOfQuote, type DayToGive } from './promise-of-quote.ts'
import { workOf } from './quote-draft.ts'
import { quoteToTake, type AskedWork } from './quote-work.ts'

/** A day that is given, and the hours that have to go into the almanac for it. */
export interface QuotedPromise {
  /** Null where no day was chosen and none can be offered. */
  readonly promise: NewPromise | null
  readonly hours: ReturnType<typeof hoursOf>
}

/**
 * A day for work that is being taken, quoted at this moment.
 * Problem: `offer-gone` at `promisedFor`: what was chosen takes something that the shop has not, and is not offered like that any more.
 */
export async function quotedPromise(
  shop: OpenShop,
  { newWork, clocks, standsStill }: AskedWork & { readonly standsStill: Problem | null },
  give: DayToGive,
): Promise<Result<QuotedPromise>> {
  const takesMore = give.chosen?.kind === 'with-more'
  const answer =
    standsStill === null ? await quoteToTake(shop, { newWork, clocks }, takesMore ? 'all-offers' : 'odds') : null
  const offers = offersToGive(answer?.ok === true ? answer.value.offers : [], give.chosen)
  const hours = offers[0] === undefined ? null : hoursOf(offers[0])
  if (takesMore && hours === null) return failed(offerGone)
  return ok({ promise: promiseOfQuote(offers, give, shop.moment(), await timesInUse(shop)), hours })
}

const offerGone = problem('offer-gone', 'This date is not on offer any more. Look at the dates again.', 'promisedFor')

/** An order that was only asked about, as work that would be taken now; null when it is not in the book. */
export function workOfInquiry(moment: Moment, commissionId: string): ReturnType<typeof workOf> | null {
  const { book } = moment
  const commission = book.commissions.find(({ id }) => id === commissionId)
  if (commission === undefined) return null
  const pieces = book.pieces.filter((piece) => piece.commissionId === commissionId)
  const ids = new Set(pieces.map(({ id }) => id))
  return workOf(
    {
      commission: { ...commission, standing: 'agreed' },
      pieces,
      steps: moment.stepsOf(commissionId),
      lags: book.lags.filter(({ pieceId }) => ids.has(pieceId)),
    },
    moment,
  )
}

/** Another day for an order in the book, with its chance in the plan as it is. */
export async function promiseByHand(
  shop: OpenShop,
  commissionId: string,
  day: LocalDay | null,
  { wantedBy, why }: Pick<NewPromise, 'wantedBy' | 'why'>,
): Promise<NewPromise> {
  const odds = await shop.oddsOf(commissionId)
  const moment = shop.moment()
  const { timeZone } = moment.almanac.shop
  const commission = moment.book.commissions.find(({ id }) => id === commissionId)
  const doneAt = commission === undefined ? null : dateOf(commission, moment).doneAt
  return {
    kind: 'promise',
    day,
    chance: odds === null || day === null ? null : chanceBy(odds, moment.setting.endOfDay(day)),
    chanceAlone: odds === null || day === null ? null : chanceAloneBy(odds, moment.setting.endOfDay(day)),
    days: odds === null ? null : oddsDays(odds, timeZone),
    plannedDay: doneAt === null ? null : localDay(doneAt, timeZone),
    offer: { kind: 'own-day', takes: '' },
    times: await timesInUse(shop),
    wantedBy,
    why,
    goodUntil: null,
  }
}
