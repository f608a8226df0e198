import type { Interval } from '../planning/index.ts'
import type { Book, StepEntry } from './book.ts'
import { LONGEST_STRETCH_MIN, workAt } from './work-done.ts'

/** When somebody was in the shop for sure, because work was logged. */
export interface HoursLogged {
  /** Sorted, disjoint; none ends after `until`. */
  readonly stretches: readonly Interval[]
  /** The end of the present hour: what ends later is not over. */
  readonly until: number
}

export const NOTHING_LOGGED: HoursLogged = { stretches: [], until: -Infinity }

/**
 * The stretches between a press on Start (or going on) and the next pause or Done, of all steps together. Work in hand goes on until the
 * end of the present hour. What is logged as done without having been started says nothing of when.
 * @param entries oldest first, only those that count
 */
export function hoursLogged(entries: readonly StepEntry[], now: number): HoursLogged {
  const until = (Math.floor(now / 60) + 1) * 60
  const stretches: Interval[] = []
  const add = (from: number, to: number): void => {
    if (to > from && to - from <= LONGEST_STRETCH_MIN) stretches.push({ from, to })
  }
  for (const work of workAt(entries).values()) {
    for (const { from, to } of work.stretches) add(from, Math.min(to, until))
    if (work.running !== null) add(work.running.since, until)
  }
  return { stretches: joined(stretches), until }
}

/** The same of a book, with what was done lately at orders that are closed by now. */
export function hoursOfBook({ log, lately }: Pick<Book, 'log' | 'lately'>, now: number): HoursLogged {
  const own = hoursLogged(log, now)
  if (lately === undefined) return own
  // After years these are thousands, and the same from press to press.
  let before = known.get(lately)
  if (before?.until !== own.until) known.set(lately, (before = hoursLogged(lately, now)))
  return { stretches: joined([...own.stretches, ...before.stretches]), until: own.until }
}

const known = new WeakMap<readonly StepEntry[], HoursLogged>()

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
