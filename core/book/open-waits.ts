import type { CureClock } from '../planning/model.ts'
import { readyAt } from '../waits/cure-clock.ts'
import type { BookLag, BookStep } from './book.ts'
import { untouched, type StepProgress } from './step-progress.ts'

/** A wait that runs now, or is over while what follows has not begun. */
export interface OpenWait {
  readonly lag: BookLag
  readonly from: BookStep
  readonly to: BookStep
  readonly sinceAt: number
  /** Null: it stands still, as nothing cures in these conditions. */
  readonly readyAt: number | null
  /** When the longest wait is over; null: no limit. */
  readonly closesAt: number | null
}

/**
 * The waits of one lot that matter now: its first step is done, the one it leads to is not begun. Of several waits out
 * of one step only the next to end is shown: a glue-up is first in clamps, then curing.
 */
export function openWaits(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  progress: ReadonlyMap<string, StepProgress>,
  clockOf: (product: string) => CureClock,
  now: number,
): OpenWait[] {
  const byId = new Map(steps.map((step) => [step.id, step]))
  const waits: OpenWait[] = []
  for (const lag of lags) {
    const from = byId.get(lag.fromStep)
    const to = byId.get(lag.toStep)
    const before = progress.get(lag.fromStep)
    const after = progress.get(lag.toStep) ?? untouched
    if (lag.wait === 'none' || !from || !to || before?.kind !== 'done' || after.kind !== 'to-do') continue
    const cured = endOfWait(before.endedAt, lag.minMin, lag.product === null ? null : clockOf(lag.product))
    waits.push({
      lag,
      from,
      to,
      sinceAt: before.endedAt,
      readyAt: cured === null ? null : Math.max(cured, after.pushedUntil ?? cured),
      closesAt: endOfWindow(before.endedAt, cured, lag),
    })
  }
  return nextToEnd(waits, now)
}

/** The least instant at which `minutes` have run on the clock since `start`; null: never. Without a clock: plain elapsed time. */
export const endOfWait = (start: number, minutes: number, clock: CureClock | null): number | null =>
  clock === null || minutes <= 0 ? start + Math.max(0, minutes) : readyAt(start, minutes, clock.segments)

/** When the longest wait is over. What opens later because it is cold also closes later: the window keeps its width. */
export const endOfWindow = (
  start: number,
  opensAt: number | null,
  lag: Pick<BookLag, 'minMin' | 'maxMin'>,
): number | null =>
  lag.maxMin === null || opensAt === null
    ? null
    : Math.max(start, opensAt) + Math.max(0, lag.maxMin - Math.max(0, lag.minMin))

function nextToEnd(waits: readonly OpenWait[], now: number): OpenWait[] {
  const chosen = new Map<string, OpenWait>()
  for (const wait of waits) {
    const rival = chosen.get(wait.from.id)
    if (!rival || comesBefore(wait, rival, now)) chosen.set(wait.from.id, wait)
  }
  return [...chosen.values()]
}

// While the clamps are on, the clamps are what is waited for, even when they could come off already.
const rank = (wait: OpenWait, now: number): number =>
  wait.lag.wait === 'in-clamps' ? 0 : wait.readyAt === null || wait.readyAt > now ? 1 : 2

const comesBefore = (wait: OpenWait, rival: OpenWait, now: number): boolean =>
  rank(wait, now) !== rank(rival, now)
    ? rank(wait, now) < rank(rival, now)
    : (wait.readyAt ?? Infinity) < (rival.readyAt ?? Infinity)
