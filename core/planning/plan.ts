import { failed, ok, problem, type Problem, type Result } from '../problems.ts'
import { asPlan } from './as-plan.ts'
import { blocksOf } from './blocks.ts'
import { compile, TO_DO } from './compiled.ts'
import { bestSchedule, isExactlySolvable, type ExactSchedule } from './exact.ts'
import { compareObjectives, measured } from './measured.ts'
import type { Objective, Plan, PlanningProblem } from './model.ts'
import { orderByPromises } from './priority.ts'
import { refusals } from './refusals.ts'
import { Schedule, type Obstacle } from './schedule.ts'
import { hoursWords, stepWords } from './step-words.ts'

export interface PlanOptions {
  /** How many schedules may be generated; the more, the better the plan. Default: a few, for an answer at once. */
  readonly schedules?: number
  /** Same problem, seed and number of schedules: same plan. */
  readonly seed?: number
  /** A plan to start from, of this problem or of an earlier state of it; the answer is not worse where it still holds. */
  readonly start?: Plan
}

/**
 * Who does what when: start and end of every step, done dates, missed windows. Refuses senseless and impossible problems
 * with the steps named, see refusals.ts.
 */
export function plan(input: PlanningProblem, options: PlanOptions = {}): Result<Plan> {
  const problems = refusals(input)
  if (problems.length > 0) return failed(...problems)
  const compiled = compile(input)
  const blocks = blocksOf(compiled)
  const schedule = new Schedule(compiled, blocks)
  const tries = Math.min(options.schedules ?? PATIENCES.length, PATIENCES.length)
  let best: Plan | null = null
  for (const patience of PATIENCES.slice(0, Math.max(1, tries))) {
    if (!schedule.build(orderByPromises(compiled, blocks, patience))) continue
    if (best === null || compareObjectives(measured(schedule), best.objective) < 0) best = asPlan(schedule, 'first')
  }
  return best === null ? failed(refusalOf(schedule)) : ok(best)
}

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
  const answer = bestSchedule(compiled, order, mostOrders, firstSchedule(schedule))
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

/** A schedule by rule as a start for the complete search; null when it misses a window. */
function firstSchedule(schedule: Schedule): ExactSchedule | null {
  const { compiled, blocks } = schedule
  if (!schedule.build(orderByPromises(compiled, blocks, PATIENCES[0]!))) return null
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
  return asPlan(schedule, 'optimal')
}

/** Look-aheads of the priority rule that are tried, see priority.ts. */
const PATIENCES = [2, 8, 0.5]

/** Why no schedule could be built, in words. */
export function refusalOf({
  compiled,
  obstacle,
}: {
  readonly compiled: Schedule['compiled']
  readonly obstacle: Obstacle | null
}): Problem {
  if (obstacle === null) throw new Error('nothing was in the way')
  const { steps, lags, stations } = compiled.problem
  const step = steps[obstacle.step]!
  const field = `steps.${step.id}`
  const words = stepWords(step)
  switch (obstacle.kind) {
    case 'no-hours':
      return problem(
        'no-hours-left',
        `${words} finds no place before the known working hours end: enter hours further ahead, or longer sessions.`,
        field,
      )
    case 'station': {
      const { name } = stations[obstacle.station]!
      return problem(
        'station-never-free',
        `${words} waits for ${name}, and what holds ${name} waits for ${words}: get more, or let it be freed earlier.`,
        field,
      )
    }
    case 'window': {
      const lag = lags[obstacle.lag]!
      const from = steps[compiled.lagFrom[obstacle.lag]!]!
      const to = steps[compiled.lagTo[obstacle.lag]!]!
      return problem(
        'window-cannot-be-met',
        `${stepWords(to)} must start within ${hoursWords(lag.maxMin ?? 0)} after ${stepWords(from)} (“${lag.name}”), and whenever that is tried the shop is closed or taken: add hours, widen the window, or say what is done when it is missed.`,
        `steps.${to.id}`,
      )
    }
    case 'wait': {
      const lag = lags[obstacle.lag]!
      return problem(
        'wait-never-over',
        `“${lag.name}” before ${words} is never over: its clock stands still. Warm the shop, or check the conditions in the almanac.`,
        field,
      )
    }
  }
}
