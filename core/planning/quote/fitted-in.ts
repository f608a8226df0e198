import { FittingIn, type Looking } from './fitting.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { refusals } from '../problem/refusals.ts'
import { compareObjectives } from '../rules/measured.ts'

/** How often the way from now to where it was quoted is halved. */
const HALVINGS = 4

/**
 * A plan with a new commission in it. One that was quoted is planned for when it has to be, `planBy`, as late in the queue as that allows
 * with nobody to whom something is promised done later than in the current plan: the time before was left to others, whose promises would be
 * less sure without it. What was not quoted, or cannot be done by then, is done as soon as may be. Null when there is no plan.
 * @param current without the new commission, or as it was offered, with it
 */
export function fittedIn(problem: PlanningProblem, commissionId: string, current: Plan, looking: Looking): Plan | null {
  if (refusals(problem).length > 0) return null
  const planBy = planByOf(problem, commissionId)
  if (planBy === null) return soonest(problem, commissionId, current, looking)
  const isByThen = (plan: Plan | null): plan is Plan => plan !== null && doneAt(plan, commissionId) <= planBy
  const unmoved = othersAsIn(current, problem, commissionId)
  let found = heldBack(unmoved, commissionId, current, problem.now)
  if (!isByThen(found)) {
    if (isByThen(current)) return current
    const atOnce = heldBack(problem, commissionId, current, problem.now)
    return isByThen(atOnce) ? atOnce : (soonest(problem, commissionId, current, looking) ?? atOnce)
  }
  let [early, late] = [problem.now, planBy]
  for (let halving = 0; halving < HALVINGS; halving++) {
    const from = Math.round((early + late) / 2)
    const tried = heldBack(unmoved, commissionId, current, from)
    if (isByThen(tried)) {
      found = tried
      early = from
    } else late = from
  }
  return found
}

/** When a commission has to be done by plan; null: it was not quoted. */
export function planByOf({ commissions }: PlanningProblem, commissionId: string): number | null {
  const { quotedFor = null, planBy = quotedFor } = commissions.find(({ id }) => id === commissionId) ?? {}
  return planBy
}

/** The problem as if whatever else is promised had to be done as soon as it is in a plan. */
function othersAsIn(made: Plan, problem: PlanningProblem, commissionId: string): PlanningProblem {
  const done = new Map(made.commissions.map((each) => [each.id, each.doneAt]))
  const commissions = problem.commissions.map((each) => {
    const { id, promise, aim = promise } = each
    return promise === null || id === commissionId ? each : { ...each, aim: Math.min(aim!, done.get(id) ?? aim!) }
  })
  return { ...problem, commissions }
}

/** New work fitted in where nobody pays for it, as if it could not begin before an instant; null where that cannot be. */
export function heldBack(joined: PlanningProblem, commissionId: string, current: Plan, from: number): Plan | null {
  const steps = joined.steps.map((step) =>
    step.commissionId === commissionId ? { ...step, release: Math.max(step.release ?? 0, from) } : step,
  )
  const fitted = new FittingIn({ ...joined, steps }, commissionId, current).offers()
  return fitted.ok ? fitted.value.keeps : null
}

function soonest(problem: PlanningProblem, commissionId: string, current: Plan, looking: Looking): Plan | null {
  const fitted = new FittingIn(problem, commissionId, current).offers(looking)
  if (!fitted.ok) return null
  const { keeps, soonest: atOnce } = fitted.value
  if (keeps === null || atOnce === null) return keeps ?? atOnce
  // Only by the sooner one may it be on time itself.
  return compareObjectives(keeps.objective, atOnce.objective) <= 0 ? keeps : atOnce
}

export const doneAt = (made: Plan, commissionId: string): number =>
  made.commissions.find(({ id }) => id === commissionId)?.doneAt ?? Infinity
