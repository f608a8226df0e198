import {
  type AnnouncedStart,
  compareObjectives,
  doneAt,
  type Forecast,
  fittedIn,
  plan,
  type Plan,
  planByOf,
  PlanGuard,
  type PlanningProblem,
} from '../../core/planning/index.ts'
import { failed, ok, type Problem, type Result } from '../../core/problems.ts'
import { PLACED_AT_REST, lookingIn } from './search-effort.ts'

/** What was planned: the problem without the commissions that could not be, and the plan. */
export interface Planned {
  readonly problem: PlanningProblem
  readonly plan: Plan
  /** Commissions that the planner refused, each with what would do; the others are planned without them. */
  readonly refused: readonly { readonly commissionId: string; readonly problem: Problem }[]
}

/** An order that was taken, with the plan that it was offered in. */
export interface TakenAsOffered {
  readonly offered: Plan
  readonly forecast: Forecast
}

/** Replications with which the offered plan is compared while somebody waits, and what may be lost by it: a single one of them. */
const LOOKS = 40
const SLACK = 1 / LOOKS
/** From an earlier plan, its two readings and one schedule by rule. */
const SCHEDULES_FREELY = 3

type Going = 'as-it-is' | 'freely' | TakenAsOffered

/**
 * Plans the book. A commission that is refused is left out with its reason, so that it does not take the others' dates.
 * @param earlier plan of an earlier state of the book, to start from
 * @param going by the earlier plan wherever it holds; `freely`: as rules would have it besides; or with what was taken since, as it was offered
 */
export function planBook(
  problem: PlanningProblem,
  earlier: Plan | null = null,
  going: Going = 'as-it-is',
): Result<Planned> {
  const refused: { commissionId: string; problem: Problem }[] = []
  let asked = problem
  for (;;) {
    const made = planFrom(asked, earlier, going)
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

/** As much of a plan as its starts tell: each step then, or as soon after as may be. */
export const planOfStarts = (starts: readonly AnnouncedStart[]): Plan => ({
  steps: starts.map(({ step, start }) => ({
    ...{ id: step, start, end: start, stretches: [], makers: [] },
    ...{ setUpMin: 0, remedyMin: 0 },
  })),
  ...{ pieces: [], commissions: [], missedWindows: [], missedPins: [] },
  objective: { missedWindows: 0, weightedTardiness: 0, weightedCompletion: 0, makespanMin: 0, moved: 0 },
  quality: 'first',
})

/** Where nothing can be made of the earlier plan any more, rules alone make one. */
function planFrom(problem: PlanningProblem, earlier: Plan | null, going: Going): Result<Plan> {
  if (earlier === null) return plan(problem)
  const { isAny, newcomer } = whatIsNew(problem, earlier)
  const taken = typeof going === 'string' ? null : going
  const start = newcomer === null ? earlier : (withNewcomer(problem, newcomer, earlier, taken) ?? earlier)
  // Rules know days alone, and may spend what makes promises sure: where nothing is new that was not offered, a search that weighs chances
  // looks for better.
  const isFree = going === 'freely' || (taken === null && isAny)
  const made = plan(problem, { start, schedules: isFree ? SCHEDULES_FREELY : 1 })
  return made.ok ? made : plan(problem)
}

/** Whether there are steps that an earlier plan does not know, and the order that is all of them. */
function whatIsNew(
  { steps }: PlanningProblem,
  earlier: Plan,
): { readonly isAny: boolean; readonly newcomer: string | null } {
  const planned = new Set(earlier.steps.map(({ id }) => id))
  const newSteps = steps.filter(({ id, state }) => state.kind === 'to-do' && !planned.has(id))
  const [newcomer, ...others] = new Set(newSteps.map(({ commissionId }) => commissionId))
  const isWhole =
    newcomer !== undefined &&
    others.length === 0 &&
    !steps.some(({ id, commissionId }) => commissionId === newcomer && planned.has(id))
  return { isAny: newSteps.length > 0, newcomer: isWhole ? newcomer : null }
}

/** What has just been agreed on is fitted in as it was quoted; null where it cannot be. */
function withNewcomer(
  problem: PlanningProblem,
  newcomer: string,
  earlier: Plan,
  taken: TakenAsOffered | null,
): Plan | null {
  const fitted = fittedIn(problem, newcomer, taken?.offered ?? earlier, lookingIn(problem, 0, PLACED_AT_REST))
  return taken === null || fitted === null ? fitted : asSureAsOffered(problem, newcomer, fitted, taken)
}

/** The offer puts the new order as far to the front as others bear; where all keep their chances it need not be there. */
function asSureAsOffered(
  problem: PlanningProblem,
  newcomer: string,
  fitted: Plan,
  { offered, forecast }: TakenAsOffered,
): Plan {
  const guard = new PlanGuard(problem, offered, forecast, LOOKS, SLACK)
  const byRule = plan(problem, { schedules: 1 })
  const isBetter =
    byRule.ok &&
    doneAt(byRule.value, newcomer) <= (planByOf(problem, newcomer) ?? Infinity) &&
    compareObjectives(byRule.value.objective, fitted.objective) < 0
  const candidates = isBetter ? [byRule.value, fitted] : [fitted]
  return candidates.find((each) => each === offered || guard.keeps(each)) ?? offered
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
