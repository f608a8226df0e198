import { failed, ok, type Result } from '../../problems.ts'
import { asPlan } from '../schedule/as-plan.ts'
import { blocksOf } from '../schedule/blocks.ts'
import { isProvablyBest } from './bounds.ts'
import { compile } from '../problem/compiled.ts'
import { bestSchedule, isExactlySolvable } from './exact.ts'
import { buildFirst } from '../schedule/first-schedule.ts'
import { refusalOf } from '../problem/impossible.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { exactPlan, knownSchedule } from './exact-plan.ts'
import { refusals } from '../problem/refusals.ts'
import { Schedule } from '../schedule/schedule.ts'
import { Search } from './search.ts'

export interface ImproveOptions {
  /** When to stop at the latest; the search cools down towards it. */
  readonly schedules: number
  readonly seed?: number
  readonly start?: Plan
}

export interface Progress {
  /** Schedules generated so far. */
  readonly schedules: number
  /** The best plan so far; the same object as before where nothing better was found. */
  readonly plan: Plan
}

/** Steps placed between two looks up, so that whoever drives the search can stop it within some hundredths of a second. */
const STEPS_A_SLICE = 2_000
/** Problems of this size are worth a complete search, as long as it does not take more partial orders than that. */
const SMALL = 12
const MOST_ORDERS = 20_000
const FIRST_TRIES = 4

/**
 * Better and better plans: the first one at once, then one after each slice of work, until the schedules are used up or
 * a bound proves that nothing better exists. Stop by not asking for more. Depends on the problem, the seed and the number
 * of schedules only, never on the speed of the machine.
 */
export function* improve(input: PlanningProblem, options: ImproveOptions): Generator<Progress, Result<Plan>> {
  const problems = refusals(input)
  if (problems.length > 0) return failed(...problems)
  const compiled = compile(input)
  const schedule = new Schedule(compiled, blocksOf(compiled))
  if (!buildFirst(schedule, Math.min(FIRST_TRIES, options.schedules), options.start)) return planOfLastResort(schedule)
  const first = asPlan(schedule, 'first')
  if (isProvablyBest(compiled, first.objective)) return ok({ ...first, quality: 'optimal' })
  yield { schedules: FIRST_TRIES, plan: first }

  if (isExactlySolvable(compiled, SMALL)) {
    const answer = bestSchedule(compiled, MOST_ORDERS, knownSchedule(schedule))
    if (answer.kind === 'optimal') return ok(exactPlan(schedule, answer.schedule))
  }

  const search = new Search(schedule, options.seed ?? 1, options.schedules)
  let best = first
  search.schedules = FIRST_TRIES
  while (search.schedules < options.schedules) {
    const until = Math.min(options.schedules, search.schedules + STEPS_A_SLICE / Math.max(1, compiled.stepCount))
    let isBetter = false
    while (search.schedules < until) if (search.move()) isBetter = true
    if (isBetter) {
      best = asPlan(search.bestTimes, 'improved')
      if (isProvablyBest(compiled, best.objective)) return ok({ ...best, quality: 'optimal' })
    }
    yield { schedules: search.schedules, plan: best }
  }
  return ok(best)
}

/** Where no rule finds a schedule: the best one where the problem is small, or what is in the way. */
function planOfLastResort(schedule: Schedule): Result<Plan> {
  const { compiled, obstacle } = schedule
  if (!isExactlySolvable(compiled, SMALL)) return failed(refusalOf({ compiled, obstacle }))
  const answer = bestSchedule(compiled, MOST_ORDERS)
  if (answer.kind === 'optimal') return ok(exactPlan(schedule, answer.schedule))
  if (answer.kind === 'unfinished' || answer.lag < 0) return failed(refusalOf({ compiled, obstacle }))
  return failed(
    refusalOf({ compiled, obstacle: { kind: 'window', step: compiled.lagTo[answer.lag]!, lag: answer.lag } }),
  )
}
