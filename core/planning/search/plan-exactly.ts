import { failed, ok, problem, type Result } from '../../problems.ts'
import { asPlan } from '../schedule/as-plan.ts'
import { blocksOf } from '../schedule/blocks.ts'
import { compile, TO_DO } from '../problem/compiled.ts'
import { bestSchedule, isExactlySolvable, type ExactSchedule } from './exact.ts'
import { buildFirst } from '../schedule/first-schedule.ts'
import { refusalOf } from '../problem/impossible.ts'
import { measured } from '../rules/measured.ts'
import type { Objective, Plan, PlanningProblem } from '../problem/model.ts'
import { refusals } from '../problem/refusals.ts'
import { Schedule } from '../schedule/schedule.ts'

/**
 * The best plan of all, proved by complete search: for problems of about a dozen steps still to do, without lags of
 * negative minimum and, where there is wet finish, without dusty work that pauses. All windows and pins are kept, or it
 * is refused with the window that cannot be.
 * @param order which objectives count, and in which order; absent: as everywhere
 */
export function planExactly(
  input: PlanningProblem,
  order?: readonly (keyof Objective)[],
  mostOrders?: number,
): Result<Plan> {
  const problems = refusals(input)
  if (problems.length > 0) return failed(...problems)
  const compiled = compile(input)
  if (!isExactlySolvable(compiled, Infinity))
    return failed(
      problem(
        'not-searchable',
        'This problem holds something that complete search does not cover: plan it the usual way.',
      ),
    )
  const schedule = new Schedule(compiled, blocksOf(compiled))
  const known = buildFirst(schedule, 1) ? knownSchedule(schedule) : null
  const answer = bestSchedule(compiled, order, mostOrders, known)
  if (answer.kind === 'unfinished')
    return failed(
      problem('too-many-orders', 'There are too many orders of these steps to look at all: plan it the usual way.'),
    )
  if (answer.kind === 'optimal') return ok(exactPlan(schedule, answer.schedule))
  if (answer.lag >= 0)
    return failed(
      refusalOf({ compiled, obstacle: { kind: 'window', step: compiled.lagTo[answer.lag]!, lag: answer.lag } }),
    )
  return failed(problem('no-plan', 'No order of these steps keeps every window, pin and station.'))
}

/** A schedule as a start for the complete search; null when it misses a window. */
export function knownSchedule(schedule: Schedule): ExactSchedule | null {
  const objective = measured(schedule)
  if (objective.missedWindows > 0) return null
  const { start, end, crew, setUp } = schedule
  return { start: start.slice(), end: end.slice(), crew: crew.slice(), setUp: setUp.slice(), objective }
}

/** Takes over an exact schedule into an empty one. */
export function exactPlan(schedule: Schedule, { start, end, crew, setUp }: ExactSchedule): Plan {
  const { state } = schedule.compiled
  schedule.reset()
  const open = [...state.keys()]
    .filter((step) => state[step] === TO_DO)
    .sort((a, b) => start[a]! - start[b]! || end[a]! - end[b]!)
  for (const step of open) {
    schedule.start[step] = start[step]!
    schedule.end[step] = end[step]!
    schedule.crew[step] = crew[step]!
    schedule.setUp[step] = setUp[step]!
    schedule.remedy[step] = 0
    schedule.restore(step)
  }
  // How little is moved of what was announced is not searched for: only a plan that moves nothing is surely the best.
  const made = asPlan(schedule, 'optimal')
  return made.objective.moved === 0 ? made : { ...made, quality: 'improved' }
}
