import type { Book } from './book.ts'
import { reachedFrom } from './remake.ts'
import type { StepProgress } from './step-progress.ts'

/** How many pieces of each step have failed since it was begun and go their own way: a step that is not in here still has all of its pieces. */
export function piecesGone(
  { steps, lags, log }: Pick<Book, 'steps' | 'lags' | 'log'>,
  progress: ReadonlyMap<string, StepProgress>,
): ReadonlyMap<string, number> {
  const gone = new Map<string, number>()
  for (const { action, atMin } of log) {
    if (action.kind !== 'failed') continue
    const from = steps.find(({ id }) => id === action.fromStepId)
    // Where all of a lot failed its steps are set aside, and nothing of it is left anywhere.
    if (from === undefined || from.lost === true) continue
    const lot = steps.filter((step) => step.pieceId === from.pieceId && step.lot === from.lot && step.lost !== true)
    for (const id of reachedFrom(from.id, lot, lags)) {
      const own = progress.get(id)
      if (own === undefined || own.kind === 'to-do' || own.startedAt > atMin) continue
      gone.set(id, (gone.get(id) ?? 0) + action.count)
    }
  }
  return gone
}
