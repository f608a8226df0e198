import type { IsoWeekday } from '../../core/time/local-day.ts'
import type { WeeklyHours } from '../../core/time/shop-calendar.ts'
import { writeTimeOfDay } from '../../core/time/time-of-day.ts'
import { weekdayWords } from './weekdays.ts'

/** `Monday 19:00 to 21:30`, `Saturday 9:00 to 12:00 and 13:00 to 17:00`. */
export const hoursInWords = (day: IsoWeekday, hours: WeeklyHours): string =>
  `${weekdayWords[day]} ${stretchesInWords(hours[day] ?? [])}`

export const stretchesInWords = (stretches: readonly { readonly from: number; readonly to: number }[]): string =>
  stretches.map(({ from, to }) => `${writeTimeOfDay(from)} to ${writeTimeOfDay(to)}`).join(' and ')

/** Minutes in the shop in a week without special days. */
export const weeklyMinutes = (hours: WeeklyHours): number =>
  Object.values(hours)
    .flat()
    .reduce((sum, { from, to }) => sum + to - from, 0)
