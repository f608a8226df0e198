import type { IsoWeekday } from '../../core/time/local-day.ts'

export const weekdayWords: Readonly<Record<IsoWeekday, string>> = {
  1: 'Monday',
  2: 'Tuesday',
  3: 'Wednesday',
  4: 'Thursday',
  5: 'Friday',
  6: 'Saturday',
  7: 'Sunday',
}
