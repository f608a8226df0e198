import type { IsoWeekday } from '../time/local-day.ts'
import { problem, type Problem, type Result } from '../problems.ts'
import type { DayHours, WeeklyHours } from '../time/shop-calendar.ts'
import type { Almanac, Maker } from './almanac.ts'
import { readFraction } from './read-figures.ts'
import { inOrder, readHours, refuseOverlap } from './read-hours.ts'
import { unlessProblems, idOf, requiredName, refuseTwice, take } from './read-listed.ts'

/** A maker as typed. `id` is empty for a new one; hours have a weekday of 1 (Monday) to 7 and times like `19:00`. */
export interface MakerInput {
  readonly id: string
  readonly name: string
  /** `90 %`. */
  readonly attendance: string
  readonly hours: readonly { readonly weekday: number; readonly from: string; readonly to: string }[]
}

export function readMaker(input: MakerInput, almanac: Almanac): Result<Maker> {
  const problems: Problem[] = []
  const name = requiredName(input.name, 'Who is it? Type a name.', problems)
  refuseTwice(almanac.makers, input.id, name, problems)
  const attendance = take(readFraction(input.attendance, 'Shows up', 0.01), 'attendance', problems) ?? 1
  const byDay = new Map<number, DayHours[]>()
  for (const [index, row] of input.hours.entries()) {
    if (!Number.isInteger(row.weekday) || row.weekday < 1 || row.weekday > 7) {
      problems.push(problem('weekday', 'Choose a weekday.', `hours.${index}.weekday`))
      continue
    }
    const hours = take(readHours(row.from, row.to), `hours.${index}`, problems)
    if (hours === null) continue
    const others = byDay.get(row.weekday) ?? []
    refuseOverlap(others, hours, WEEKDAYS[row.weekday - 1] ?? '', `hours.${index}`, problems)
    byDay.set(row.weekday, [...others, hours])
  }
  const weeklyHours: WeeklyHours = Object.fromEntries(
    [...byDay].sort(([a], [b]) => a - b).map(([weekday, hours]) => [weekday as IsoWeekday, inOrder(hours)]),
  )
  return unlessProblems({ id: idOf(input.id, name, almanac.makers), name, weeklyHours, attendance }, problems)
}

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const
