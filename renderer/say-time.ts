import { durationWords } from '../core/time/duration.ts'
import { localDay, type LocalDay } from '../core/time/local-day.ts'
import {
  partOfDay,
  writeDay,
  writeDayAndTime,
  writeTime,
  writeWeekdayAndTime,
  type Wording,
} from '../core/time/write-instant.ts'

/**
 * Times in the words of the screens. Instants are whole minutes since the Unix epoch, days `YYYY-MM-DD`, both as the shop's
 * wording (time zone and locale) has them.
 */

/** `18:00` today, `Thu 18:00` within a week, else `Thu 3 Dec, 18:00`. */
export function sayMoment(atMin: number, nowMin: number, wording: Wording): string {
  const days = daysAway(atMin, nowMin, wording)
  if (days === 0) return writeTime(atMin, wording)
  return Math.abs(days) < 7 ? writeWeekdayAndTime(atMin, wording) : writeDayAndTime(atMin, wording)
}

/**
 * `this evening`, `Sat morning` within the week to come, else `Sat 12 Dec, morning`: as precise as a plan can be. What is over has its date:
 * last Tuesday and the next one stand in one table.
 */
export function saySession(atMin: number, nowMin: number, wording: Wording): string {
  const part = partOfDay(atMin, wording.timeZone)
  const days = daysAway(atMin, nowMin, wording)
  if (days === 0) return part === 'night' ? 'tonight' : `this ${part}`
  if (days >= 7 || days < 0) return `${writeDay(atMin, wording)}, ${part}`
  return `${writeLocalDayAs(localDay(atMin, wording.timeZone), wording.locale, { weekday: 'short' })} ${part}`
}

/** `Saturday 14 March`, with the year where it is more than half a year away. */
export function sayDay(day: LocalDay, nowMin: number, wording: Wording): string {
  const apart = Math.abs(Date.parse(day) - nowMin * 60_000)
  return writeLocalDayAs(day, wording.locale, {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    ...(apart < HALF_A_YEAR_MS ? {} : { year: 'numeric' }),
  })
}

/** `Sat 14 Mar` */
export const sayShortDay = (day: LocalDay, wording: Wording): string =>
  writeLocalDayAs(day, wording.locale, { weekday: 'short', day: 'numeric', month: 'short' })

/** How long, as `durationWords` says it; `under a minute` where that is so. */
export const sayMinutes = (minutes: number): string => (minutes < 1 ? 'under a minute' : durationWords(minutes))

/** An estimate, without precision that it does not have: to 5 minutes from half an hour on, to a quarter from four hours on. */
export function sayAbout(minutes: number): string {
  const step = minutes >= 240 ? 15 : minutes >= 30 ? 5 : 1
  return sayMinutes(Math.round(minutes / step) * step)
}

/** How late: `less than a day`, `3 days`. What is planned is no more precise. */
export function sayLate(minutes: number): string {
  const days = Math.round(minutes / DAY)
  return days < 1 ? 'less than a day' : `${days} ${days === 1 ? 'day' : 'days'}`
}

const DAY = 24 * 60
const HALF_A_YEAR_MS = 183 * DAY * 60_000

/** Whole civil days from now. */
const daysAway = (atMin: number, nowMin: number, { timeZone }: Wording): number =>
  (Date.parse(localDay(atMin, timeZone)) - Date.parse(localDay(nowMin, timeZone))) / 86_400_000

const writeLocalDayAs = (day: LocalDay, locale: string, form: Intl.DateTimeFormatOptions): string =>
  new Intl.DateTimeFormat(locale, { ...form, timeZone: 'UTC' }).format(new Date(`${day}T12:00:00Z`))
