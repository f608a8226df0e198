import type { Odds as PlanOdds } from '../../core/planning/index.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Attendance } from './planning-request.ts'
import type { Odds } from '../views.ts'

/** Replications behind the odds of a date. */
export const replications = 1000

/** How often the plan's date of one commission is kept; null while it has none, or nothing is left to be uncertain about. */
export async function commissionOdds(shop: OpenShop, commissionId: string): Promise<Odds | null> {
  const answer = await shop.planner.ask(`odds/${commissionId}`, {
    kind: 'odds',
    commissionId,
    attendance: attendanceOf(shop.almanac),
    replications,
  })
  return answer.ok ? oddsView(answer.value) : null
}

export const attendanceOf = (almanac: Almanac): Attendance =>
  almanac.makers.map((maker) => ({ maker: maker.id, rate: maker.attendance }))

export const oddsView = (odds: PlanOdds | null): Odds | null =>
  odds && {
    p50At: odds.reached50,
    p80At: odds.reached80,
    p95At: odds.reached95,
    replications: odds.replications,
  }
