import type { OpenShop } from './open-shop.ts'
import { attendanceOf, oddsView } from './quote-draft.ts'
import type { Odds } from './views.ts'

const replications = 1000

/** How often the plan's date of one commission is kept; null while it has none, or nothing is left to be uncertain about. */
export async function commissionOdds(shop: OpenShop, commissionId: string): Promise<Odds | null> {
  const { planned } = shop
  const toDo = planned?.problem.steps.some((step) => step.commissionId === commissionId && step.state.kind !== 'done')
  if (!planned || !toDo) return null
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
