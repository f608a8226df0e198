import type { CureClock, WaitKind } from '../planning/index.ts'
import type { BookLag, BookStep } from './book.ts'
import type { Stay } from './stays.ts'
import { waitOverAt } from './wait-over.ts'
import { untouched, type StepProgress } from './step-progress.ts'

/** A wait that runs now, or is over while what follows has not begun. */
export interface OpenWait {
  readonly lag: BookLag
  readonly from: BookStep
  readonly to: BookStep
  readonly sinceAt: number
  /** Null: it stands still, as nothing cures in these conditions. */
  readonly readyAt: number | null
  /** Which step must have begun by when (a recoat window), the first to close of those that this wait opened; null: no limit. */
  readonly window: { readonly closesAt: number; readonly to: BookStep; readonly remedy: string | null } | null
}

/**
 * The waits of one lot that matter now: its first step is done, the one it leads to is not begun. Of several waits out
 * of one step the one before the next step is told: a glue-up is first in clamps, then curing; a coat is sanded, then
 * coated again. The window among them that closes first goes with it.
 */
export function openWaits(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  progress: ReadonlyMap<string, StepProgress>,
  clockOf: (product: string, wait: WaitKind, stays: readonly Stay[]) => CureClock,
): OpenWait[] {
  const byId = new Map(steps.map((step) => [step.id, step]))
  const waits: OpenWait[] = []
  for (const lag of lags) {
    const from = byId.get(lag.fromStep)
    const to = byId.get(lag.toStep)
    const before = progress.get(lag.fromStep)
    const after = progress.get(lag.toStep) ?? untouched
    if (lag.wait === 'none' || !from || !to || before?.kind !== 'done' || after.kind !== 'to-do') continue
    const clock = lag.product === null ? null : clockOf(lag.product, lag.wait, before.stays)
    const cured = waitOverAt(before, lag, clock)
    const closesAt = endOfWindow(before.endedAt, cured, lag)
    waits.push({
      lag,
      from,
      to,
      sinceAt: before.endedAt,
      readyAt: cured === null ? null : Math.max(cured, after.pushedUntil ?? cured),
      window: closesAt === null ? null : { closesAt, to, remedy: lag.remedy?.name ?? null },
    })
  }
  return [...Map.groupBy(waits, (wait) => wait.from.id).values()].map(together)
}

function together(waits: readonly OpenWait[]): OpenWait {
  const [next] = waits.toSorted((a, b) => a.to.position - b.to.position)
  const [window] = waits
    .flatMap((wait) => (wait.window === null ? [] : [wait.window]))
    .sort((a, b) => a.closesAt - b.closesAt)
  if (next === undefined) throw new Error('A group has at least one wait.')
  return { ...next, window: window ?? null }
}

/**
 * When the window closes. What opens later because it is cold also closes later: the window keeps its width in elapsed time, as
 * the planner has it (`Lag.maxMin`). Cold surely widens it too, but no maker says by how much, and a window that is told too
 * short costs a scuff, one told too long a coat that does not hold.
 * @source our own reading: for finishes only the waits until a coat may follow are published as longer in the cold
 * (General Finishes, DuraSeal, oil-base tips page); of the closing of a window nothing is
 */
export const endOfWindow = (
  start: number,
  opensAt: number | null,
  lag: Pick<BookLag, 'minMin' | 'maxMin'>,
): number | null =>
  lag.maxMin === null || opensAt === null
    ? null
    : Math.max(start, opensAt) + Math.max(0, lag.maxMin - Math.max(0, lag.minMin))
