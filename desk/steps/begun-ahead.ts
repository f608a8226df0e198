import type { BookStep, LoggedStretch, StepAction } from '../../core/book/book.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import type { Moment } from '../moment.ts'

/** Begun at an instant that is still to come: the computer's clock was ahead when Start was pressed. */
export function isBegunAhead(step: BookStep, moment: Moment): boolean {
  const progress = moment.progress(step.id)
  return progress.kind === 'running' && progress.since > moment.now
}

/**
 * The work at such a step as it really was, up to now. When it began nobody knows any more, so it is asked how long it took.
 * @param workedMin undefined: not asked yet; null: nobody knows
 * Problem: `begun-ahead`.
 */
export function workUpToNow(
  step: BookStep,
  moment: Moment,
  isDone: boolean,
  workedMin: number | null | undefined,
): Result<StepAction> {
  const { now } = moment
  const work = moment.work(step.id)
  if (workedMin === undefined) {
    return failed(problem('begun-ahead', 'The clock was ahead. How long did you work on it?', 'workedMin'))
  }
  // What was logged by a clock that was right stays; what lies ahead is part of the answer.
  const before = work.stretches
    .filter(({ to }) => to <= now)
    .map(({ from: fromMin, to: toMin, makerId }) => ({ fromMin, toMin, makerId }))
  const fromMin = Math.max(now - (workedMin ?? 0), ...before.map(({ toMin }) => toMin))
  const last: readonly LoggedStretch[] =
    fromMin < now ? [{ fromMin, toMin: now, makerId: work.running?.makerId ?? null }] : []
  return ok({
    kind: 'put-right',
    why: 'corrected',
    stretches: [...before, ...last],
    runningSinceMin: null,
    doneAtMin: isDone ? now : null,
  })
}
