import type { Interval } from '../planning/index.ts'
import type { StepEntry } from './book.ts'

/** When somebody was in the shop for sure, because work was logged. */
export interface HoursLogged {
  /** Sorted, disjoint; none ends after `until`. */
  readonly stretches: readonly Interval[]
  /** The end of the present hour: what ends later is not over. */
  readonly until: number
}

export const NOTHING_LOGGED: HoursLogged = { stretches: [], until: -Infinity }

/** A stretch that seems longer is a press that was forgotten: then nobody knows when they left. @source common practice, no source */
const LONGEST_STRETCH_MIN = 6 * 60

/**
 * The stretches between a press on Start (or going on) and the next pause or Done, of all steps together. Work in hand goes on until the
 * end of the present hour. What is logged as done without having been started says nothing of when.
 * @param entries oldest first, only those that count
 */
export function hoursLogged(entries: readonly StepEntry[], now: number): HoursLogged {
  const until = (Math.floor(now / 60) + 1) * 60
  const running = new Map<string, number>()
  const stretches: Interval[] = []
  const add = (from: number, to: number): void => {
    if (to > from && to - from <= LONGEST_STRETCH_MIN) stretches.push({ from, to })
  }
  for (const { stepId, atMin, action } of entries) {
    const since = running.get(stepId)
    if (action.kind === 'started' && since === undefined) running.set(stepId, atMin)
    if ((action.kind === 'paused' || action.kind === 'done') && since !== undefined) {
      running.delete(stepId)
      add(since, Math.min(atMin, until))
    }
  }
  for (const since of running.values()) add(since, until)
  return { stretches: joined(stretches), until }
}

/** Sorted, with what overlaps or touches made one. */
export function joined(intervals: readonly Interval[]): Interval[] {
  const result: { from: number; to: number }[] = []
  for (const { from, to } of intervals.toSorted((a, b) => a.from - b.from)) {
    const last = result.at(-1)
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to)
    else result.push({ from, to })
  }
  return result
}
