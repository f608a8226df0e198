import { failed, ok, problem, type Result } from '../problems.ts'

/** Reads a time by the wall clock, `19:00`, `7 pm`, `9.30`, `noon` or `24:00`, as minutes since local midnight, 0..1440. */
export function readTimeOfDay(text: string): Result<number> {
  const asked = text.trim().toLowerCase()
  if (asked === 'noon') return ok(720)
  if (asked === 'midnight') return ok(1440)
  const found = /^(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?$/.exec(asked)
  const hour = Number(found?.[1])
  const minute = Number(found?.[2] ?? 0)
  const half = found?.[3]?.startsWith('p') === true ? 'pm' : found?.[3] === undefined ? null : 'am'
  const wrong = found === null || minute > 59 || (half === null ? hour > 24 : hour < 1 || hour > 12)
  if (wrong) return failed(problem('time-of-day', `“${text.trim()}” is not a time of day: type it like 19:00 or 7 pm.`))
  const minutes = (half === null ? hour : (hour % 12) + (half === 'pm' ? 12 : 0)) * 60 + minute
  if (minutes > 1440) return failed(problem('time-of-day', `“${text.trim()}” is past midnight: a day ends at 24:00.`))
  return ok(minutes)
}

/** `9:00`, `19:30`, `24:00`; by a clock of twelve hours `9 AM`, `7:30 PM`, `midnight`. */
export function writeTimeOfDay(minutes: number, hour12 = false): string {
  const hour = Math.floor(minutes / 60)
  const past = String(minutes % 60).padStart(2, '0')
  if (!hour12) return `${hour}:${past}`
  if (minutes === 1440) return 'midnight'
  return `${hour % 12 === 0 ? 12 : hour % 12}${past === '00' ? '' : `:${past}`} ${hour < 12 ? 'AM' : 'PM'}`
}
