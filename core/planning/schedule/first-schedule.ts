import { compareObjectives, measured } from '../rules/measured.ts'
import type { Objective, Plan } from '../problem/model.ts'
import { Snapshot } from '../search/neighbourhood.ts'
import { plannedTimes } from './planned-times.ts'
import { orderByPromises, orderByStart } from '../search/priority.ts'
import { Schedule } from './schedule.ts'
import { resumePlan } from './take-over.ts'

/** Look-aheads of the priority rule, see priority.ts, in the order in which they are worth a try. */
const PATIENCES = [16, 4, 64, 1]

/**
 * Builds a schedule by priority rules, the best of as many as are tried, and from an earlier plan where there is one: a single try goes on in its
 * order. False when none can be built: the schedule then says what was in the way.
 */
export function buildFirst(schedule: Schedule, tries: number, start?: Plan): boolean {
  const { compiled, blocks } = schedule
  let best: { readonly objective: Objective; readonly snapshot: Snapshot } | null = null
  let made = 0
  let isBest = false
  const note = (isBuilt: boolean): void => {
    made += 1
    isBest = false
    if (!isBuilt) return
    const objective = measured(schedule)
    if (best !== null && compareObjectives(objective, best.objective) >= 0) return
    best = { objective, snapshot: new Snapshot(schedule) }
    isBest = true
  }
  if (start !== undefined) {
    note(resumeNear(schedule, start))
    // Not one more try: the same list, so that nobody's chance hangs on it.
    note(closedUp(schedule, start))
    made = 1
    if (made < tries) note(schedule.build(orderByStart(compiled, blocks, start)))
  }
  for (const patience of PATIENCES) {
    if (made >= tries && (best !== null || made > 0)) break
    note(schedule.build(orderByPromises(compiled, blocks, patience)))
  }
  const found = best as { readonly snapshot: Snapshot } | null
  if (found !== null && !isBest) found.snapshot.takeOver(schedule)
  return found !== null
}

/** The times of a plan where they still hold; otherwise each step at its old start or as soon after as may be. */
function resumeNear(schedule: Schedule, plan: Plan): boolean {
  const { compiled, blocks } = schedule
  if (resumePlan(schedule, plannedTimes(compiled, plan))) {
    for (const block of blocks.steps.keys()) if (!schedule.place(block)) return false
    return true
  }
  const earliest = compiled.earliest.slice()
  for (const { id, start } of plan.steps) {
    const step = compiled.indexOfStep.get(id)
    if (step !== undefined) earliest[step] = Math.max(earliest[step]!, start)
  }
  const near = new Schedule({ ...compiled, earliest }, blocks)
  if (!near.build(orderByStart(compiled, blocks, plan))) return false
  new Snapshot(near).takeOver(schedule)
  return true
}

/** In the very order of a plan, but with none of its gaps that are not needed any more: work was done sooner, or something came that it waited for. */
function closedUp(schedule: Schedule, plan: Plan): boolean {
  const { compiled, blocks } = schedule
  const earliest = compiled.earliest.slice()
  const dense = new Schedule({ ...compiled, earliest }, blocks)
  let last = compiled.now
  for (const block of orderByStart(compiled, blocks, plan)) {
    const isPlaced = dense.isPlaced(block)
    for (const step of blocks.steps[block]!) earliest[step] = Math.max(earliest[step]!, last)
    if (!dense.place(block)) return false
    if (!isPlaced) last = Math.max(last, Math.min(...blocks.steps[block]!.map((step) => dense.start[step]!)))
  }
  new Snapshot(dense).takeOver(schedule)
  return true
}
