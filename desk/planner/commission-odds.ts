import { PRIOR_MISHAPS, priorAttendance, priorTimes } from '../../core/learning/index.ts'
import type { Forecast, Odds as PlanOdds } from '../../core/planning/index.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Odds } from '../views.ts'

/** Replications behind the odds of a date: with 300 the chance of a "4 in 5" day is known to within 5 points, 19 times in 20. */
export const replications = 300

/** How often the plan's date of one commission is kept; null while it has none, or nothing is left to be uncertain about. */
export async function commissionOdds(shop: OpenShop, commissionId: string): Promise<Odds | null> {
  const answer = await shop.planner.ask(`odds/${commissionId}`, {
    kind: 'odds',
    commissionId,
    forecast: forecastOf(shop.almanac),
    replications,
  })
  return answer.ok ? oddsView(answer.value) : null
}

/** What is believed of times, evenings and mishaps before the log says more. */
export const forecastOf = ({ makers, standardTimes }: Almanac): Forecast => ({
  times: priorTimes(
    makers.map(({ id }) => id),
    standardTimes.map((time) => ({ ...time, id: time.operation })),
  ),
  attendance: priorAttendance(makers),
  mishaps: PRIOR_MISHAPS,
})

export const oddsView = (odds: PlanOdds | null): Odds | null =>
  odds && {
    p50At: odds.reached50,
    p80At: odds.reached80,
    p95At: odds.reached95,
    replications: odds.replications,
  }
