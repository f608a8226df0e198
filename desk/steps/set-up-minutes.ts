import type { BookStep } from '../../core/book/book.ts'
import { setUpWorked } from '../../core/book/work-done.ts'
import type { Moment } from '../moment.ts'

/**
 * Minutes of preparing the machine that belong to a step: as kept when it was first logged; before that as planned, where
 * others share it. All of it where neither is known.
 */
export function setUpMinutes(step: BookStep, moment: Moment): number {
  const isToDo = moment.progress(step.id).kind === 'to-do'
  return setUpWorked(step, isToDo ? { setUpMin: moment.planned(step.id)?.setUpMin ?? null } : moment.work(step.id))
}
