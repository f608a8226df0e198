import { isExists } from 'date-fns/isExists'
import { firstReached, offsetAt, zoneOffsets } from './zone-offsets.ts'

/** A civil day as ISO 8601 writes it: `2026-03-14`. */
export type LocalDay = string

/** ISO 8601: 1 is Monday, 7 is Sunday. */
export type IsoWeekday = 1 | 2 | 3 | 4 | 5 | 6 | 7

/** The civil day of an instant (whole minutes since the Unix epoch) in a time zone. */
export function localDay(instant: number, timeZone: string): LocalDay {
  return dayOfNumber(Math.floor(localMinutes(instant, timeZone) / DAY))
}

/** Minutes since local midnight by the wall clock, 0..1439. */
export function minuteOfLocalDay(instant: number, timeZone: string): number {
  return positiveRest(localMinutes(instant, timeZone), DAY)
}

/** The first instant of a civil day; where the clocks skip midnight, the moment of the jump. */
export function startOfLocalDay(day: LocalDay, timeZone: string): number {
  return instantOfLocal(day, 0, timeZone)
}

/** The first instant at which the wall clock has reached `minute` (0..1440) of a civil day. */
export function instantOfLocal(day: LocalDay, minute: number, timeZone: string): number {
  const local = dayNumber(day) * DAY + minute
  return firstReached(zoneOffsets(timeZone, local - DAY, local + DAY), local)
}

export const isoWeekday = (day: LocalDay): IsoWeekday => isoWeekdayOf(dayNumber(day))

/** The civil day so many days later, or earlier when negative. */
export const daysLater = (day: LocalDay, days: number): LocalDay => dayOfNumber(dayNumber(day) + days)

/** Whether the text is an existing day in the form `2026-03-14`. */
export function isLocalDay(text: string): boolean {
  const written = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text)
  return written !== null && isExists(Number(written[1]), Number(written[2]) - 1, Number(written[3]))
}

/** An existing day of a year that an order, a promise or a day off can be in: 2000 to 2199. Anything else is a slip. */
export const isDayOfThisAge = (text: string): boolean => /^2[01]/.test(text) && isLocalDay(text)

/** Days since 1970-01-01 of a valid civil day. */
export const dayNumber = (day: LocalDay): number => Date.parse(`${day}T00:00:00Z`) / MS_PER_DAY

export const isoWeekdayOf = (number: number): IsoWeekday =>
  (positiveRest(number + EPOCH_WEEKDAY - 1, 7) + 1) as IsoWeekday

const DAY = 24 * 60
const MS_PER_DAY = DAY * 60_000
/** 1970-01-01 was a Thursday. */
const EPOCH_WEEKDAY = 4

const dayOfNumber = (number: number): LocalDay => new Date(number * MS_PER_DAY).toISOString().slice(0, 10)

const localMinutes = (instant: number, timeZone: string): number => instant + offsetAt(timeZone, instant)

const positiveRest = (value: number, divisor: number): number => ((value % divisor) + divisor) % divisor
