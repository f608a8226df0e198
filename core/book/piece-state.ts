import type { BookStep } from './book.ts'
import type { OpenWait } from './open-waits.ts'
import type { StepProgress } from './step-progress.ts'

/** What a piece (or one lot of a batch) is at a moment. */
export type PieceState =
  'waiting-its-turn' | 'on-the-bench' | 'in-clamps' | 'curing' | 'drying' | 'resting' | 'finished'

/**
 * Derived from the log and the clock, never typed in. Work on any part of it outranks its waits; of several waits the
 * one that forbids most is named: clamps before finish before cure before rest.
 */
export function pieceState(
  steps: readonly BookStep[],
  waits: readonly OpenWait[],
  progress: ReadonlyMap<string, StepProgress>,
  now: number,
): PieceState {
  const kinds = steps.map((step) => progress.get(step.id)?.kind ?? 'to-do')
  if (kinds.every((kind) => kind === 'done')) return 'finished'
  if (kinds.includes('running') || kinds.includes('paused')) return 'on-the-bench'
  const waiting = waits.filter((wait) => wait.lag.wait === 'in-clamps' || wait.readyAt === null || wait.readyAt > now)
  for (const state of ['in-clamps', 'drying', 'curing', 'resting'] as const) {
    if (waiting.some((wait) => wait.lag.wait === state)) return state
  }
  return 'waiting-its-turn'
}
