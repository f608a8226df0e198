import type { StepEntry } from './book.ts'

/** Hands-on work without a break, in minutes since the Unix epoch. */
export interface Stretch {
  readonly from: number
  readonly to: number
  /** Who worked; null: nobody said. */
  readonly makerId: string | null
}

/** What was worked at one step, and whether it goes on or is done. */
export interface StepWork {
  /** Those that are over, in order of time. */
  readonly stretches: readonly Stretch[]
  /** The stretch that has not ended; null: nobody works at it now. */
  readonly running: { readonly since: number; readonly makerId: string | null } | null
  readonly done: { readonly at: number; readonly makerId: string | null } | null
  /** Minutes of preparing the machine that are in its work, as kept when it was first logged; null: unknown. */
  readonly setUpMin: number | null
}

export const NO_WORK: StepWork = { stretches: [], running: null, done: null, setUpMin: null }

/** A stretch that seems longer is a press that was forgotten: nobody knows when they left. @source common practice, no source */
export const LONGEST_STRETCH_MIN = 6 * 60

/**
 * The work at each step that has an entry about work. This is the one reading of presses and corrections: progress, hours in the shop
 * and learned times all follow from it.
 * @param entries oldest first, only those that count
 */
export function workAt(entries: readonly StepEntry[]): ReadonlyMap<string, StepWork> {
  const works = new Map<string, StepWork>()
  for (const entry of entries) {
    const before = works.get(entry.stepId)
    const after = afterEntry(before ?? NO_WORK, entry)
    if (after !== before && after !== NO_WORK) works.set(entry.stepId, after)
  }
  return works
}

/** Minutes of preparing the machine in the work at a step; all that it may take where nobody knows whether others shared it. */
export const setUpWorked = (
  { setUp }: { readonly setUp: { readonly minutes: number } | null },
  { setUpMin }: Pick<StepWork, 'setUpMin'>,
): number => setUpMin ?? setUp?.minutes ?? 0

/** Minutes of the stretches that are over. */
export const minutesOver = ({ stretches }: Pick<StepWork, 'stretches'>): number =>
  stretches.reduce((sum, { from, to }) => sum + to - from, 0)

function afterEntry(before: StepWork, { action, atMin: at, makerId }: StepEntry): StepWork {
  switch (action.kind) {
    case 'started':
      if (before.running !== null || before.done !== null) return before
      return {
        ...before,
        running: { since: at, makerId },
        setUpMin: before.stretches.length === 0 ? (before.setUpMin ?? action.setUpMin ?? null) : before.setUpMin,
      }
    case 'paused':
      return before.running === null ? before : stopped(before, at)
    case 'done': {
      if (before.done !== null) return before
      const said = before.running === null ? (action.workedMin ?? 0) : 0
      const now =
        said > 0
          ? {
              ...before,
              stretches: [...before.stretches, { from: at - said, to: at, makerId }],
              setUpMin: before.setUpMin ?? action.setUpMin ?? null,
            }
          : before
      return { ...stopped(now, at), done: { at, makerId } }
    }
    case 'put-right': {
      const { stretches, runningSinceMin, doneAtMin } = action
      return {
        stretches: stretches.map(({ fromMin, toMin, makerId: who }) => ({ from: fromMin, to: toMin, makerId: who })),
        running: runningSinceMin === null ? null : { since: runningSinceMin, makerId },
        done: doneAtMin === null ? null : { at: doneAtMin, makerId },
        setUpMin: before.setUpMin ?? action.setUpMin ?? null,
      }
    }
    case 'found-ready':
    case 'moved':
    case 'failed':
    case 'still-tacky':
    case 'pinned':
    case 'wood-off-list':
      return before
  }
}

function stopped(work: StepWork, at: number): StepWork {
  if (work.running === null) return work
  const { since, makerId } = work.running
  return { ...work, stretches: [...work.stretches, { from: since, to: Math.max(since, at), makerId }], running: null }
}
