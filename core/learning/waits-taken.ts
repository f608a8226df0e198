import type { OwnWait, RecordedWait } from '../almanac/own-wait.ts'
import type { StepEntry } from '../book/book.ts'
import { progressOf } from '../book/step-progress.ts'
import type { Stay } from '../book/stays.ts'
import { progressBetween, type RateSegment } from '../waits/cure-clock.ts'

/** A wait of an order, open or closed, as far as learning asks. */
export interface LoggedWait {
  readonly fromStep: string
  readonly toStep: string
  readonly wait: RecordedWait
  readonly product: string
  /** By its figure, at reference conditions; > 0. */
  readonly minMin: number
}

/** A wait that somebody looked at: how long it took, as a share of its figure in the air where the piece was. */
export interface WaitTaken {
  readonly product: string
  readonly wait: RecordedWait
  /** 1: as long as its figure says; 1.5: half as long again. */
  readonly ratio: number
  readonly readyAt: number
}

/** What was looked at of one product and kind of wait. */
export interface WaitRecord {
  readonly product: string
  readonly wait: RecordedWait
  readonly count: number
  /** The middle one of all that was found; of an even count the mean of the middle two. */
  readonly factor: number
}

/**
 * What waits took. Somebody must have looked: found it still tacky, or ready. Between the last look that found it tacky and the first
 * that found it ready it is taken as ready half-way; found ready after its time and never tacky, it took its time.
 * @param entries of the steps of these waits that count, oldest first
 * @param clockOf the clock of a wait at reference speed, without what was decided about it; along the places where it stood
 */
export function waitsTaken(
  waits: readonly LoggedWait[],
  entries: readonly StepEntry[],
  clockOf: (product: string, wait: RecordedWait, stays: readonly Stay[]) => readonly RateSegment[],
): readonly WaitTaken[] {
  const progress = progressOf(entries)
  const looks = Map.groupBy(entries, ({ stepId }) => stepId)
  return firstOfEach(waits).flatMap((wait): WaitTaken[] => {
    const before = progress.get(wait.fromStep)
    if (before?.kind !== 'done') return []
    const since = before.endedAt
    const tackyAt = (looks.get(wait.toStep) ?? []).findLast(
      ({ action, atMin }) => action.kind === 'still-tacky' && atMin > since,
    )?.atMin
    const after = progress.get(wait.toStep)
    const begunAt = after === undefined || after.kind === 'to-do' ? undefined : after.startedAt
    const readyAt = before.foundReady?.at ?? (tackyAt === undefined ? undefined : begunAt)
    if (readyAt === undefined || readyAt <= since) return []
    const clock = clockOf(wait.product, wait.wait, before.stays)
    const share = (at: number): number => progressBetween(since, at, clock) / wait.minMin
    const ratio =
      tackyAt === undefined || tackyAt >= readyAt ? Math.min(1, share(readyAt)) : (share(tackyAt) + share(readyAt)) / 2
    return ratio > 0 ? [{ product: wait.product, wait: wait.wait, ratio, readyAt }] : []
  })
}

/** Of several waits out of one step the shortest is looked at first: what ends later says nothing of it. */
function firstOfEach(waits: readonly LoggedWait[]): LoggedWait[] {
  const groups = Map.groupBy(waits, ({ fromStep, wait }) => `${fromStep} ${wait}`)
  return [...groups.values()].flatMap((group) => group.toSorted((a, b) => a.minMin - b.minMin).slice(0, 1))
}

/** One record of each product and kind of wait. */
export const waitRecords = (taken: readonly WaitTaken[]): readonly WaitRecord[] =>
  [...Map.groupBy(taken, ({ product, wait }) => `${product} ${wait}`).values()].flatMap((group) => {
    const [first] = group
    if (first === undefined) return []
    return [{ product: first.product, wait: first.wait, count: group.length, factor: median(group) }]
  })

/**
 * Whether the maker is asked to go by it: three were looked at that differ from the figure by a tenth or more, and three more since
 * the last answer. @source our own reading: rules of temperature are good to 30 % at best, so a tenth of the middle of three is little
 */
export function isWorthAsking({ count, factor }: WaitRecord, decided: OwnWait | undefined): boolean {
  const inUse = decided?.use === 'own' ? decided.factor : 1
  return count - (decided?.count ?? 0) >= LEAST_LOOKS && Math.abs(factor / inUse - 1) >= LEAST_DIFFERENCE
}

const LEAST_LOOKS = 3
const LEAST_DIFFERENCE = 0.1

function median(group: readonly WaitTaken[]): number {
  const sorted = group.map(({ ratio }) => ratio).sort((a, b) => a - b)
  const middle = sorted.length >> 1
  const [low, high] = [sorted[middle - 1] ?? 1, sorted[middle] ?? 1]
  return sorted.length % 2 === 1 ? high : (low + high) / 2
}
