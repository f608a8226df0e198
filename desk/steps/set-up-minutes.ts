import type { BookStep } from '../../core/book/book.ts'
import type { Moment } from '../moment.ts'

/**
 * Minutes of preparing the machine that belong to a step: what its first start paid, as the log has it; before that as planned, where
 * others share it. All of it where neither is known.
 */
export function setUpMinutes(step: BookStep, moment: Moment): number {
  const isToDo = moment.progress(step.id).kind === 'to-do'
  const known = isToDo ? moment.planned(step.id)?.setUpMin : moment.work(step.id).setUpMin
  return known ?? step.setUp?.minutes ?? 0
}
