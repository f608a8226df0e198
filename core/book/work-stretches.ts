import type { Interval } from '../planning/index.ts'
import type { StepEntry } from './book.ts'

/** Work at one step without a break. */
export interface WorkStretch extends Interval {
  readonly stepId: string
  readonly makerId: string | null
}

/**
 * What was worked, from each start (or going on) to the next pause or Done of the same step, by when it ended. Work in hand is not
 * among it, nor is what was logged as done without having been started.
 * @param entries oldest first, only those that count
 */
export function workStretches(entries: readonly StepEntry[]): WorkStretch[] {
  const begun = new Map<string, StepEntry>()
  const stretches: WorkStretch[] = []
  for (const entry of entries) {
    const start = begun.get(entry.stepId)
    if (entry.action.kind === 'started' && start === undefined) begun.set(entry.stepId, entry)
    if ((entry.action.kind !== 'paused' && entry.action.kind !== 'done') || start === undefined) continue
    begun.delete(entry.stepId)
    if (entry.atMin > start.atMin)
      stretches.push({ stepId: entry.stepId, makerId: start.makerId, from: start.atMin, to: entry.atMin })
  }
  return stretches
}
