import type { BookStep } from '../core/book/book.ts'
import { fittingStep } from '../core/constructions/fitting-step.ts'
import type { Moment } from './moment.ts'
import { timesOf } from './screens/weeks.ts'

/** When a piece's parts were joined, or will be by the plan; now, where there is no plan. In that season its wood is. */
export function builtAt(steps: readonly BookStep[], moment: Moment): number {
  const fitting = fittingStep(steps)
  return (fitting && timesOf(fitting, moment)?.start) ?? moment.now
}
