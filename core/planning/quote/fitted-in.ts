import { FittingIn, type Looking } from './fitting.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { refusals } from '../problem/refusals.ts'
import { compareObjectives } from '../rules/measured.ts'

/** How often the way from now to where it was quoted is halved. */
const HALVINGS = 4

/**
 * A plan with a commission in it that the current plan does not know. One that was quoted is planned for when its quote had it
 * done, as late in the queue as that allows: the time before was left to others, whose promises would be less sure without it. What was
 * not quoted, or cannot be done by then, is done as soon as may be. Null when there is no plan.
 */
export function fittedIn(problem: PlanningProblem, commissionId: string, current: Plan, looking: Looking): Plan | null {
  if (refusals(problem).length > 0) return null
  const quotedFor = problem.commissions.find(({ id }) => id === commissionId)?.quotedFor
  if (quotedFor === undefined) return soonest(problem, commissionId, current, looking)
  const atOnce = heldBack(problem, commissionId, current, problem.now)
  if (atOnce === null || doneAt(atOnce, commissionId) > quotedFor)
    return soonest(problem, commissionId, current, looking) ?? atOnce
  let found = atOnce
  let [early, late] = [problem.now, quotedFor]
  for (let halving = 0; halving < HALVINGS; halving++) {
    const from = Math.round((early + late) / 2)
    const tried = heldBack(problem, commissionId, current, from)
    if (tried !== null && doneAt(tried, commissionId) <= quotedFor) {
      found = tried
      early = from
    } else late = from
  }
  return found
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
