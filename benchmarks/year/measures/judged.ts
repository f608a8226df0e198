import { DAY_MIN, FIRST_JUDGED_DAY } from '../calendar.ts'
import type { Outcome, Promised } from '../lived.ts'

/** What is not done when the last day is over counts as so many days late. */
export const UNDONE_DAYS_LATE = 60

/** Orders asked for in the judged year. */
export const judged = (outcomes: readonly Outcome[]): readonly Outcome[] =>
  outcomes.filter(({ askedAt }) => askedAt >= FIRST_JUDGED_DAY * DAY_MIN)

export const won = (outcomes: readonly Outcome[]): readonly Outcome[] => judged(outcomes).filter(({ stayed }) => stayed)

/** The first orders that a new shop took. */
export const firstTaken = (outcomes: readonly Outcome[], count: number): readonly Outcome[] =>
  outcomes.filter(({ stayed }) => stayed).slice(0, count)

export const wasDoneBy = ({ doneAt }: Outcome, instant: number): boolean => doneAt !== null && doneAt <= instant

export const wasKept = (outcome: Outcome): boolean => wasDoneBy(outcome, outcome.promised.dueAt)

/** When it was done, or is taken to be. */
export const endOf = ({ doneAt, promised }: Outcome): number => doneAt ?? promised.dueAt + UNDONE_DAYS_LATE * DAY_MIN

export const daysPromised = ({ promised }: Outcome): number => (promised.dueAt - promised.at) / DAY_MIN

/** Days past the promised day; negative where it was early. */
export const daysOff = (outcome: Outcome): number => (endOf(outcome) - outcome.promised.dueAt) / DAY_MIN

export const mean = (values: readonly number[]): number =>
  values.length === 0 ? NaN : values.reduce((sum, value) => sum + value, 0) / values.length

/** The least value that so large a share of them does not exceed. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b)
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? NaN
}

export type Days = NonNullable<Promised['days']>
export const LEVELS = [0.5, 0.8, 0.95] as const
