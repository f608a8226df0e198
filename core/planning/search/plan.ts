import { failed, ok, type Result } from '../../problems.ts'
import { asPlan } from '../schedule/as-plan.ts'
import { blocksOf } from '../schedule/blocks.ts'
import { compile } from '../problem/compiled.ts'
import { buildFirst } from '../schedule/first-schedule.ts'
import { refusalOf } from '../problem/impossible.ts'
import { improve } from './improve.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { refusals } from '../problem/refusals.ts'
import { Schedule } from '../schedule/schedule.ts'

export interface PlanOptions {
  /** How many schedules may be generated; the more, the better the plan. Default: a few, for an answer at once. */
  readonly schedules?: number
  /** Same problem, seed and number of schedules: same plan. */
  readonly seed?: number
  /** A plan to start from, of this problem or of an earlier state of it; the answer is not worse where it still holds. */
  readonly start?: Plan
}

/** So many schedules are made by rules alone. */
const MOST_BY_RULE = 4
/** More steps than this and one rule has to do for an answer at once. */
const LARGE = 2_500

/**
 * Who does what when: start and end of every step, done dates, missed windows. Refuses senseless and impossible problems
 * with the steps named, see refusals.ts. For better plans while somebody reads see improve.ts.
 */
export function plan(input: PlanningProblem, options: PlanOptions = {}): Result<Plan> {
  const { schedules = input.steps.length > LARGE ? 1 : 2 } = options
  if (schedules > MOST_BY_RULE) {
    const search = improve(input, { ...options, schedules })
    for (;;) {
      const next = search.next()
      if (next.done === true) return next.value
    }
  }
  const problems = refusals(input)
  if (problems.length > 0) return failed(...problems)
  const compiled = compile(input)
  const schedule = new Schedule(compiled, blocksOf(compiled))
  return buildFirst(schedule, schedules, options.start) ? ok(asPlan(schedule, 'first')) : failed(refusalOf(schedule))
}
