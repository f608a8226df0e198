import { failed, ok, problem, within, type Problem, type Result } from '../problems.ts'
import type { DayHours } from '../time/shop-calendar.ts'
import { readTimeOfDay, writeTimeOfDay } from '../time/time-of-day.ts'

/** A stretch of one day, from before to. */
export function readHours(fromText: string, toText: string): Result<DayHours> {
  const from = readTimeOfDay(fromText)
  const to = readTimeOfDay(toText)
  if (!from.ok || !to.ok) {
    const wrong = [
      ...(from.ok ? [] : from.problems.map((one) => within('from', one))),
      ...(to.ok ? [] : to.problems.map((one) => within('to', one))),
    ]
    return failed(...wrong)
  }
  if (from.value < to.value) return ok({ from: from.value, to: to.value })
  const message = `${writeTimeOfDay(from.value)} to ${writeTimeOfDay(to.value)} ends before it begins. Hours past midnight belong to the next day, from 0:00.`
  return failed(problem('hours', message, 'to'))
}

export function refuseOverlap(
  others: readonly DayHours[],
  hours: DayHours,
  day: string,
  field: string,
  problems: Problem[],
): void {
  const clash = others.find((one) => one.from < hours.to && hours.from < one.to)
  if (clash === undefined) return
  const say = ({ from, to }: DayHours): string => `${writeTimeOfDay(from)}-${writeTimeOfDay(to)}`
  problems.push(
    problem(
      'hours-overlap',
      `${day}: ${say(hours)} overlaps ${say(clash)}. Make them one stretch, or move one.`,
      `${field}.from`,
    ),
  )
}

export const inOrder = (hours: readonly DayHours[]): readonly DayHours[] => hours.toSorted((a, b) => a.from - b.from)
