import { minuteOfLocalDay, type LocalDay } from './local-day.ts'

/** How instants are shown: an IANA time zone and a BCP 47 locale (`en-US` has a 12-hour clock, `en-GB` a 24-hour one). */
export interface Wording {
  readonly timeZone: string
  readonly locale: string
}

/** `Sat, Mar 14` or `Sat 14 Mar`, as the locale writes it. */
export const writeDay = (instant: number, wording: Wording): string => written(instant, wording, DAY_FORM)

/** `Thu 18:00` or `Thu 6:00 PM`. Only for instants within a week, where the weekday says it all. */
export const writeWeekdayAndTime = (instant: number, wording: Wording): string =>
  `${writeWeekday(instant, wording)} ${writeTime(instant, wording)}`

/** `Thu`. Only for instants within a week. */
export const writeWeekday = (instant: number, wording: Wording): string =>
  written(instant, wording, { weekday: 'short' })

/** `Sat 14 Mar, 18:00`. */
export const writeDayAndTime = (instant: number, wording: Wording): string =>
  `${writeDay(instant, wording)}, ${writeTime(instant, wording)}`

/** `18:00` or `6:00 PM`. */
export const writeTime = (instant: number, wording: Wording): string =>
  written(instant, wording, { hour: 'numeric', minute: '2-digit' })

export type PartOfDay = 'morning' | 'afternoon' | 'evening' | 'night'

/** By the wall clock: morning from 5, afternoon from 12, evening from 17, night from 22. */
export function partOfDay(instant: number, timeZone: string): PartOfDay {
  const hour = minuteOfLocalDay(instant, timeZone) / 60
  if (hour < 5 || hour >= 22) return 'night'
  if (hour < 12) return 'morning'
  return hour < 17 ? 'afternoon' : 'evening'
}

/** `Saturday 14 March 2026`, for papers. */
export const writeLongDay = (instant: number, wording: Wording): string =>
  written(instant, wording, { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' })

/** A civil day in the short form of `writeDay`. */
export const writeLocalDay = (day: LocalDay, locale: string): string =>
  formatter({ timeZone: 'UTC', locale }, DAY_FORM).format(new Date(`${day}T12:00:00Z`))

/** A civil day with its year, for papers, which are kept for years: `Sat, Mar 14, 2026`. */
export const writeLocalDayInFull = (day: LocalDay, locale: string): string =>
  formatter({ timeZone: 'UTC', locale }, { ...DAY_FORM, year: 'numeric' }).format(new Date(`${day}T12:00:00Z`))

const DAY_FORM: Intl.DateTimeFormatOptions = { weekday: 'short', day: 'numeric', month: 'short' }

const written = (instant: number, wording: Wording, form: Intl.DateTimeFormatOptions): string =>
  formatter(wording, form)
    .format(new Date(instant * 60_000))
    .replaceAll('\u202f', ' ')

const formatters = new Map<string, Intl.DateTimeFormat>()

/** Making a formatter costs a thousand times more than using one. */
function formatter(wording: Wording, form: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${wording.locale} ${wording.timeZone} ${Object.entries(form).join()}`
  const known = formatters.get(key)
  if (known !== undefined) return known
  const made = new Intl.DateTimeFormat(wording.locale, { ...form, timeZone: wording.timeZone })
  formatters.set(key, made)
  return made
}
