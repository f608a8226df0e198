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

/** Elapsed time in the largest unit that keeps it short and whole where it can: `45 min`, `1 h 30 min`, `24 h`, `3 d`. */
export function writeDuration(minutes: number): string {
  if (minutes >= 2 * DAY && minutes % DAY === 0) return `${minutes / DAY} d`
  const hours = Math.floor(minutes / 60)
  const rest = minutes - hours * 60
  if (hours === 0) return `${rest} min`
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`
}

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
