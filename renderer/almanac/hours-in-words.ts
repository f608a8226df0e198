import type { IsoWeekday } from '../../core/time/local-day.ts'
import type { WeeklyHours } from '../../core/time/shop-calendar.ts'
import { writeTimeOfDay } from '../../core/time/time-of-day.ts'
import { weekdayWords } from './weekdays.ts'

/** `Monday 19:00 to 21:30`, `Saturday 9 AM to 1 PM`, by the shop's clock. */
export const hoursInWords = (day: IsoWeekday, hours: WeeklyHours, hour12: boolean): string =>
  `${weekdayWords[day]} ${stretchesInWords(hours[day] ?? [], hour12)}`

export const stretchesInWords = (
  stretches: readonly { readonly from: number; readonly to: number }[],
  hour12: boolean,
): string =>
  stretches.map(({ from, to }) => `${writeTimeOfDay(from, hour12)} to ${writeTimeOfDay(to, hour12)}`).join(' and ')

/** Minutes in the shop in a week without special days. */
export const weeklyMinutes = (hours: WeeklyHours): number =>
  Object.values(hours)
    .flat()
    .reduce((sum, { from, to }) => sum + to - from, 0)
