import { failed, ok, problem, type Result } from '../problems.ts'

export type DurationUnit = 'min' | 'h' | 'd'

/**
 * Reads elapsed time as makers write it: `90 min`, `24 h`, `1.5 h`, `1 h 30 min`, `3 d`, `2 weeks`, `24h`. A number without a
 * unit is in `defaultUnit`. The result is whole minutes, zero or more, at most ten years.
 */
export function readDuration(text: string, defaultUnit: DurationUnit): Result<number> {
  const asked = text.trim().toLowerCase().replaceAll(',', '.')
  if (asked === '') return failed(problem('duration-missing', 'No time yet: type one, such as 90 min, 24 h or 3 d.'))
  const bare = /^\d+(\.\d+)?$/.exec(asked)
  const minutes = bare === null ? sumOfTerms(asked) : Number(asked) * MINUTES[defaultUnit]
  if (minutes === null) {
    return failed(
      problem(
        'duration-unreadable',
        `“${text.trim()}” is no time I can read: write it like 90 min, 24 h, 1 h 30 min or 3 d.`,
      ),
    )
  }
  if (minutes > LONGEST_MIN)
    return failed(problem('duration-too-long', `“${text.trim()}” is over ten years: check the unit.`))
  return ok(Math.round(minutes))
}

/** Elapsed minutes as they are typed, to be read again: `45 min`, `1 h 30 min`, `24 h`, `3 d`. */
export function writeDuration(minutes: number): string {
  if (minutes >= 2 * DAY && minutes % DAY === 0) return `${minutes / DAY} d`
  const hours = Math.floor(minutes / 60)
  const rest = minutes - hours * 60
  if (hours === 0) return `${rest} min`
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`
}

/** Elapsed minutes in words: `45 min`, `1 h 30 min`, `3 days`, `1 day 4 h`. To the minute below a day, above it to the hour; below 0 as 0. */
export function durationWords(minutes: number): string {
  const whole = Math.max(0, Math.round(minutes))
  if (whole < DAY) return workWords(whole)
  const hours = Math.round(whole / 60)
  const days = Math.floor(hours / 24)
  return joined(days, days === 1 ? 'day' : 'days', hours % 24, 'h')
}

/** Hands-on minutes in words: `45 min`, `30 h 15 min`. They have no days: a day of the clock is not a day of work. */
export function workWords(minutes: number): string {
  const whole = Math.max(0, Math.round(minutes))
  return whole < 60 ? `${whole} min` : joined(Math.floor(whole / 60), 'h', whole % 60, 'min')
}

const joined = (large: number, largeUnit: string, small: number, smallUnit: string): string =>
  small === 0 ? `${large} ${largeUnit}` : `${large} ${largeUnit} ${small} ${smallUnit}`

const DAY = 24 * 60
const LONGEST_MIN = 3653 * DAY

const MINUTES: Readonly<Record<DurationUnit, number>> = { min: 1, h: 60, d: DAY }

const SPELLINGS: Readonly<Record<string, number>> = {
  m: 1,
  min: 1,
  mins: 1,
  minute: 1,
  minutes: 1,
  h: 60,
  hr: 60,
  hrs: 60,
  hour: 60,
  hours: 60,
  d: DAY,
  day: DAY,
  days: DAY,
  w: 7 * DAY,
  wk: 7 * DAY,
  week: 7 * DAY,
  weeks: 7 * DAY,
}

/** Each unit once, the larger first. */
function sumOfTerms(asked: string): number | null {
  let rest = asked
  let sum = 0
  let last = Infinity
  while (rest !== '') {
    const term = /^(\d+(?:\.\d+)?)\s*([a-z]+)\.?\s*/.exec(rest)
    const unit = SPELLINGS[term?.[2] ?? '']
    if (term === null || unit === undefined || unit >= last) return null
    sum += Number(term[1]) * unit
    last = unit
    rest = rest.slice(term[0].length)
  }
  return sum
}
