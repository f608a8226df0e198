import { LEAST_GAIN_MIN, likelyAdditions, withAddition } from '../quote/additions.ts'
import type { Addition } from '../quote/answers.ts'
import type { BindingChain, Plan, PlanningProblem } from '../problem/model.ts'
import { plan } from '../search/plan.ts'
import type { Result } from '../../problems.ts'

/** The one addition to the shop that brings a commission's date nearest, with the date; null when none brings half a day. */
export interface Help {
  readonly addition: Addition
  readonly doneAt: number
  readonly soonerMin: number
}

/** Plans a shop with something added to it from its plan before; anew where nothing can be made of that. */
export function plannedWith(shop: PlanningProblem, before: Plan): Result<Plan> {
  const made = plan(shop, { start: before, schedules: 2 })
  return made.ok ? made : plan(shop)
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
    const shop = withAddition(problem, addition)
    const answer = plannedWith(shop, made)
    if (!answer.ok || answer.value.objective.weightedTardiness > made.objective.weightedTardiness) continue
    const doneAt = answer.value.commissions[shop.commissions.findIndex(({ id }) => id === chain.commissionId)]?.doneAt
    if (doneAt === undefined) continue
    const help = { addition, doneAt, soonerMin: before - doneAt }
    if (help.soonerMin < LEAST_GAIN_MIN || (best !== null && withoutEffort(help) >= withoutEffort(best))) continue
    best = help
  }
  return best
}

/** Carrying a piece or another can costs less than heat, hours or clamps: it is told where it gains about as much. */
const withoutEffort = ({ addition, doneAt }: Help): number =>
  addition.kind === 'otherwise' ? doneAt - LEAST_GAIN_MIN : doneAt
