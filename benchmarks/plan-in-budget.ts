import { improve, type Plan, type PlanningProblem } from '../core/planning/index.ts'

export type Budget = { readonly schedules: number } | { readonly seconds: number }

/** What the planner says; `plan` is null where it refuses. */
export interface Planned {
  readonly plan: Plan | null
  readonly schedules: number
}

const FIRST_SCHEDULES = 500

/**
 * The planner of the app, asked for so many schedules; or, held to time, asked again and again for twice as many, each
 * time from the best plan so far, since its search is laid out for a number of schedules.
 */
export function planInBudget(problem: PlanningProblem, budget: Budget, seed: number, clock: () => number): Planned {
  if ('schedules' in budget) return searched(problem, budget.schedules, seed, undefined, () => true)
  const started = clock()
  const isTimeLeft = (): boolean => clock() - started < budget.seconds * 1000
  let best: Plan | undefined
  let schedules = 0
  for (let round = 0; isTimeLeft() && best?.quality !== 'optimal'; round++) {
    const next = searched(problem, FIRST_SCHEDULES * 2 ** round, seed + round, best, isTimeLeft)
    schedules += next.schedules
    if (next.plan === null) return { plan: null, schedules }
    best = next.plan
  }
  return { plan: best ?? null, schedules }
}

function searched(
  problem: PlanningProblem,
  most: number,
  seed: number,
  start: Plan | undefined,
  goOn: () => boolean,
): Planned {
  const search = improve(problem, { schedules: most, seed, ...(start === undefined ? {} : { start }) })
  let schedules = 0
  for (;;) {
    const next = search.next()
    if (next.done === true) return { plan: next.value.ok ? next.value.value : null, schedules: Math.max(1, schedules) }
    schedules = next.value.schedules
    if (!goOn()) return next.value
  }
}
