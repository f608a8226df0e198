import { asPlan } from '../schedule/as-plan.ts'
import { TO_DO } from '../problem/compiled.ts'
import type { ExactSchedule } from './exact.ts'
import { measured } from '../rules/measured.ts'
import type { Plan } from '../problem/model.ts'
import type { Schedule } from '../schedule/schedule.ts'

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
