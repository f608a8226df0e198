import type { Forecast, Odds as PlanOdds } from '../../core/planning/index.ts'
import { learnedBy } from '../learning/learned.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Odds } from '../views.ts'

/** Replications behind the odds of a date: with 300 the chance of a "4 in 5" day is known to within 5 points, 19 times in 20. */
export const replications = 300

/** How often the plan's date of one commission is kept; null while it has none, or nothing is left to be uncertain about. */
export async function commissionOdds(shop: OpenShop, commissionId: string): Promise<Odds | null> {
  const answer = await shop.planner.ask(`odds/${commissionId}`, {
    kind: 'odds',
    commissionId,
    forecast: await forecastOf(shop),
    replications,
  })
  return answer.ok ? oddsView(answer.value) : null
}

const known = new WeakMap<object, Promise<Forecast>>()

/** What the shop's log teaches of times and evenings, learned once for each state of the book. */
export function forecastOf(shop: OpenShop): Promise<Forecast> {
  const { book } = shop.moment()
  const before = known.get(book)
  if (before !== undefined) return before
  const forecast = learnedBy(shop).then(({ times, attendance, mishaps }) => ({ times, attendance, mishaps }))
  known.set(book, forecast)
  return forecast
}

export const oddsView = (odds: PlanOdds | null): Odds | null =>
  odds && {
    p50At: odds.reached50,
    p80At: odds.reached80,
    p95At: odds.reached95,
    replications: odds.replications,
  }
