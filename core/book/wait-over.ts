import type { RateSegment } from '../waits/cure-clock.ts'
import { readyAt } from '../waits/cure-clock.ts'
import type { BookLag } from './book.ts'
import type { StepProgress } from './step-progress.ts'

type Done = Extract<StepProgress, { readonly kind: 'done' }>

/** The least instant at which `minutes` have run on the clock since `start`; null: never. Without a clock: plain elapsed time. */
export const endOfWait = (
  start: number,
  minutes: number,
  clock: { readonly segments: readonly RateSegment[] } | null,
): number | null =>
  clock === null || minutes <= 0 ? start + Math.max(0, minutes) : readyAt(start, minutes, clock.segments)

/** When somebody looked and found that the wait is over already; null: nobody did. What has longer to wait goes on waiting. */
export const foundReadyAt = (
  { foundReady }: Done,
  { wait, minMin }: Pick<BookLag, 'wait' | 'minMin'>,
): number | null =>
  foundReady !== null && foundReady.wait === wait && minMin <= foundReady.minMin ? foundReady.at : null

/** When a wait that has begun is over: as it was found, else as its clock has it; null: never. */
export const waitOverAt = (
  before: Done,
  lag: Pick<BookLag, 'wait' | 'minMin'>,
  clock: { readonly segments: readonly RateSegment[] } | null,
): number | null => foundReadyAt(before, lag) ?? endOfWait(before.endedAt, lag.minMin, clock)
