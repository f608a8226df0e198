import { ClauseLearning } from './clause-learning.ts'
import { luby } from './luby.ts'
import type { LaggedProject } from './lagged-project.ts'
import type { SearchBudget } from './search-budget.ts'

export type LaggedResult =
  /** `proved`: no schedule ends earlier. `leastEnd`: none can end before this. */
  | {
      readonly kind: 'found'
      readonly starts: readonly number[]
      readonly makespan: number
      readonly proved: boolean
      readonly leastEnd: number
      readonly schedules: number
    }
  | { readonly kind: 'infeasible'; readonly schedules: number }
  | { readonly kind: 'gave-up'; readonly leastEnd: number; readonly schedules: number }

/**
 * Earliest end of a project with minimum and maximum lags: a first schedule within a horizon that is long enough for any
 * feasible project, then better and better ones until the search has excluded every other.
 * Dead ends and schedules both count as schedules of the budget.
 */
export function leastLaggedMakespan(project: LaggedProject, budget: SearchBudget): LaggedResult {
  const solver = new ClauseLearning(project, longestHorizon(project))
  const goOn = budget.goOn ?? (() => true)
  let best: Int32Array | null = null
  let makespan = Number.POSITIVE_INFINITY
  let found = 0
  for (let run = 1; ; run++) {
    const spent = solver.conflicts + found
    if (spent >= budget.schedules || !goOn()) break
    const end = solver.search(Math.min(RESTART * luby(run), budget.schedules - spent), goOn)
    if (end === 'exhausted') {
      if (best === null) return { kind: 'infeasible', schedules: solver.conflicts + found }
      return {
        kind: 'found',
        starts: Array.from(best),
        makespan,
        proved: true,
        leastEnd: makespan,
        schedules: solver.conflicts + found,
      }
    }
    if (end === 'stopped') continue
    found += 1
    best = solver.starts()
    makespan = lastFinish(project, best)
    solver.prefer(best)
    if (!solver.demandEndBy(makespan - 1)) {
      return {
        kind: 'found',
        starts: Array.from(best),
        makespan,
        proved: true,
        leastEnd: makespan,
        schedules: solver.conflicts + found,
      }
    }
  }
  const schedules = solver.conflicts + found
  if (best === null) return { kind: 'gave-up', leastEnd: solver.leastEnd, schedules }
  return { kind: 'found', starts: Array.from(best), makespan, proved: false, leastEnd: solver.leastEnd, schedules }
}

/** If there is a schedule at all, there is one that ends by then: one activity after the other, each with its longest lag. */
function longestHorizon(project: LaggedProject): number {
  const longest = [...project.durations]
  for (const { from, lag } of project.lags) longest[from] = Math.max(longest[from]!, lag)
  return longest.reduce((sum, length) => sum + length, 0)
}

function lastFinish(project: LaggedProject, starts: Int32Array): number {
  return starts.reduce((end, start, activity) => Math.max(end, start + project.durations[activity]!), 0)
}

const RESTART = 100
