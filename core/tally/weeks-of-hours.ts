import { dayNumber, daysLater, isoWeekday, type LocalDay } from '../time/local-day.ts'

/** A stretch of time, whole minutes since the Unix epoch, half-open. */
export interface TimeStretch {
  readonly from: number
  readonly to: number
}

/** A civil week from Monday to Sunday. */
export interface Week {
  readonly monday: LocalDay
  readonly from: number
  readonly to: number
}

/**
 * Weeks in a row, the first with the given day in it.
 * @param startOfDay first instant of a local day in the shop's time zone: a week of a clock change is an hour longer or shorter
 */
export function weeksFrom(day: LocalDay, count: number, startOfDay: (day: LocalDay) => number): Week[] {
  const first = mondayOf(day)
  return Array.from({ length: count }, (_, index) => {
    const monday = daysLater(first, index * 7)
    return { monday, from: startOfDay(monday), to: startOfDay(daysLater(monday, 7)) }
  })
}

export const mondayOf = (day: LocalDay): LocalDay => daysLater(day, 1 - isoWeekday(day))

/** Whole weeks between the weeks of two days, 0 within one; `later` must not be before `earlier`. */
export const weeksBetween = (earlier: LocalDay, later: LocalDay): number =>
  (dayNumber(mondayOf(later)) - dayNumber(mondayOf(earlier))) / 7

/** Minutes of the stretches that fall into a week; stretches that overlap count each. */
export const minutesWithin = (stretches: readonly TimeStretch[], { from, to }: Pick<Week, 'from' | 'to'>): number =>
  stretches.reduce((sum, each) => sum + Math.max(0, Math.min(each.to, to) - Math.max(each.from, from)), 0)
