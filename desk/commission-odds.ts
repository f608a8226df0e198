import type { OpenShop } from './open-shop.ts'
import { attendanceOf, oddsView } from './quote-draft.ts'
import type { Odds } from './views.ts'

const replications = 1000

/** How often the plan's date of one commission is kept; null while it has none. */
export async function commissionOdds(shop: OpenShop, commissionId: string): Promise<Odds | null> {
  const { planned } = shop
  if (planned === null || !planned.problem.commissions.some((commission) => commission.id === commissionId)) return null
  const answer = await shop.planner.ask(`odds/${commissionId}`, {
    kind: 'odds',
    problem: planned.problem,
    plan: planned.plan,
    commissionId,
    attendance: attendanceOf(shop.almanac),
    replications,
  })
  return answer.ok && answer.value ? oddsView(answer.value) : null
}
