import { LEAST_GAIN_MIN, likelyAdditions, withAddition } from '../quote/additions.ts'
import type { Addition } from '../quote/answers.ts'
import type { BindingChain, Plan, PlanningProblem } from '../problem/model.ts'
import { plan } from '../search/plan.ts'

/** The one addition to the shop that brings a commission's date nearest, with the date; null when none brings half a day. */
export interface Help {
  readonly addition: Addition
  readonly doneAt: number
  readonly soonerMin: number
}

/**
 * Tries what its binding chain suggests (and what the caller adds), planning everything anew with each; no promise may get
 * later by it.
 */
export function whatWouldHelp(
  problem: PlanningProblem,
  made: Plan,
  chain: BindingChain,
  more: readonly Addition[] = [],
): Help | null {
  const index = problem.commissions.findIndex(({ id }) => id === chain.commissionId)
  const before = made.commissions[index]?.doneAt
  if (before === undefined) return null
  let best: Help | null = null
  for (const addition of [...likelyAdditions(problem, chain), ...more]) {
    const answer = plan(withAddition(problem, addition), { start: made, schedules: 2 })
    if (!answer.ok || answer.value.objective.weightedTardiness > made.objective.weightedTardiness) continue
    const { doneAt } = answer.value.commissions[index]!
    if (before - doneAt < LEAST_GAIN_MIN || (best !== null && doneAt >= best.doneAt)) continue
    best = { addition, doneAt, soonerMin: before - doneAt }
  }
  return best
}
