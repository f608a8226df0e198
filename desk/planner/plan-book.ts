import { fittedIn, plan, type Plan, type PlanningProblem } from '../../core/planning/index.ts'
import { failed, ok, type Problem, type Result } from '../../core/problems.ts'
import { PLACED_AT_REST, lookingIn } from './search-effort.ts'

/** What was planned: the problem without the commissions that could not be, and the plan. */
export interface Planned {
  readonly problem: PlanningProblem
  readonly plan: Plan
  /** Commissions that the planner refused, each with what would do; the others are planned without them. */
  readonly refused: readonly { readonly commissionId: string; readonly problem: Problem }[]
}

/** From an earlier plan, its two readings and one schedule by rule. */
const SCHEDULES_FROM_EARLIER = 3

/**
 * Plans the book. A commission that is refused is left out with its reason, so that it does not take the others' dates.
 * @param earlier plan of an earlier state of the book, to start from
 */
export function planBook(problem: PlanningProblem, earlier: Plan | null = null): Result<Planned> {
  const refused: { commissionId: string; problem: Problem }[] = []
  let asked = problem
  for (;;) {
    const made = planFrom(asked, earlier)
    if (made.ok) return ok({ problem: asked, plan: made.value, refused })
    const named = made.problems.flatMap((each) => {
      const { commissionId } = each
      return commissionId === undefined ? [] : [{ commissionId, problem: each }]
    })
    if (named.length === 0) return failed(...made.problems)
    refused.push(...new Map(named.map((each) => [each.commissionId, each])).values())
    asked = withoutCommissions(asked, new Set(named.map((each) => each.commissionId)))
  }
}

/** Where nothing can be made of the earlier plan any more, rules alone make one. */
function planFrom(problem: PlanningProblem, earlier: Plan | null): Result<Plan> {
  if (earlier === null) return plan(problem)
  const start = withNewcomer(problem, earlier) ?? earlier
  const made = plan(problem, { start, schedules: SCHEDULES_FROM_EARLIER })
  return made.ok ? made : plan(problem)
}

/** What has just been agreed on is fitted in as it was quoted; null where that is not what is new. */
function withNewcomer(problem: PlanningProblem, earlier: Plan): Plan | null {
  const planned = new Set(earlier.steps.map(({ id }) => id))
  const newSteps = problem.steps.filter(({ id, state }) => state.kind === 'to-do' && !planned.has(id))
  const [newcomer, ...others] = new Set(newSteps.map(({ commissionId }) => commissionId))
  if (newcomer === undefined || others.length > 0) return null
  if (problem.steps.some(({ id, commissionId }) => commissionId === newcomer && planned.has(id))) return null
  return fittedIn(problem, newcomer, earlier, lookingIn(problem, 0, PLACED_AT_REST))
}

/** The problem as if these commissions were not there. */
export function withoutCommissions(problem: PlanningProblem, commissions: ReadonlySet<string>): PlanningProblem {
  const steps = problem.steps.filter((step) => !commissions.has(step.commissionId))
  const ids = new Set(steps.map((step) => step.id))
  return {
    ...problem,
    commissions: problem.commissions.filter((commission) => !commissions.has(commission.id)),
    steps,
    lags: problem.lags.filter((lag) => ids.has(lag.from) && ids.has(lag.to)),
    announced: problem.announced.filter((start) => ids.has(start.step)),
  }
}
