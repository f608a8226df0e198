import type { StepEntry } from './book.ts'

/** How far a step is, from its log. Instants and minutes as in `Book`. */
export type StepProgress = (
  | { readonly kind: 'to-do' }
  /** `workedMin` counts the stretches before the present one, which began at `since`. */
  | {
      readonly kind: 'running'
      readonly startedAt: number
      readonly since: number
      readonly workedMin: number
      readonly makerId: string | null
    }
  | { readonly kind: 'paused'; readonly startedAt: number; readonly workedMin: number; readonly makerId: string | null }
  | {
      readonly kind: 'done'
      readonly startedAt: number
      readonly endedAt: number
      readonly workedMin: number
      readonly makerId: string | null
    }
) & {
  /** Looked at and found still tacky: not before this instant. */
  readonly pushedUntil: number | null
  /** The local day on which the maker wants it. */
  readonly pinnedDay: string | null
}

export const untouched: StepProgress = { kind: 'to-do', pushedUntil: null, pinnedDay: null }

/** Progress of each step that has an entry; entries oldest first, only those that count. */
export function progressOf(entries: readonly StepEntry[]): ReadonlyMap<string, StepProgress> {
  const progress = new Map<string, StepProgress>()
  for (const entry of entries) {
    progress.set(entry.stepId, after(progress.get(entry.stepId) ?? untouched, entry))
  }
  return progress
}

/** Working minutes spent so far, the running stretch included. */
export function workedMinutes(progress: StepProgress, now: number): number {
  switch (progress.kind) {
    case 'to-do':
      return 0
    case 'running':
      return progress.workedMin + Math.max(0, now - progress.since)
    case 'paused':
    case 'done':
      return progress.workedMin
  }
}

function after(before: StepProgress, entry: StepEntry): StepProgress {
  const kept = { pushedUntil: before.pushedUntil, pinnedDay: before.pinnedDay }
  const at = entry.atMin
  switch (entry.action.kind) {
    case 'started': {
      if (before.kind === 'running' || before.kind === 'done') return before
      const startedAt = before.kind === 'paused' ? before.startedAt : at
      return {
        kind: 'running',
        startedAt,
        since: at,
        workedMin: workedMinutes(before, at),
        makerId: entry.makerId,
        ...kept,
      }
    }
    case 'paused':
      if (before.kind !== 'running') return before
      return {
        kind: 'paused',
        startedAt: before.startedAt,
        workedMin: workedMinutes(before, at),
        makerId: before.makerId,
        ...kept,
      }
    case 'done': {
      if (before.kind === 'done') return before
      const startedAt = before.kind === 'to-do' ? at : before.startedAt
      const makerId = before.kind === 'to-do' ? entry.makerId : before.makerId
      return { kind: 'done', startedAt, endedAt: at, workedMin: workedMinutes(before, at), makerId, ...kept }
    }
    case 'still-tacky':
      return { ...before, pushedUntil: entry.action.untilMin }
    case 'pinned':
      return { ...before, pinnedDay: entry.action.day }
  }
}
