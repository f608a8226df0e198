import { isDayOfThisAge } from '../time/local-day.ts'
import { problem, type Problem, type Result } from '../problems.ts'
import type { DayHours } from '../time/shop-calendar.ts'
import type { Almanac, SpecialDay } from './almanac.ts'
import { inOrder, readHours, refuseOverlap } from './read-hours.ts'
import { unlessProblems, idOf, take } from './read-listed.ts'

/** A special day as typed; `maker` is empty for everybody, hours only count for 'extra'. */
export interface SpecialDayInput {
  readonly id: string
  readonly day: string
  readonly kind: string
  readonly maker: string
  readonly note: string
  readonly hours: readonly { readonly from: string; readonly to: string }[]
}

export function readSpecialDay(input: SpecialDayInput, almanac: Almanac): Result<SpecialDay> {
  const problems: Problem[] = []
  const day = input.day.trim()
  if (!isDayOfThisAge(day))
    problems.push(problem('day', `“${day}” is not a day: choose one, or type it like 2026-12-24.`, 'day'))
  const kind = (['closed', 'extra', 'fair'] as const).find((one) => one === input.kind)
  if (kind === undefined) problems.push(problem('kind', 'Choose closed, extra hours or a fair.', 'kind'))
  const maker = input.maker === '' ? null : input.maker
  if (maker !== null && !almanac.makers.some((one) => one.id === maker)) {
    problems.push(problem('maker', 'The almanac has no such maker: choose one, or everybody.', 'maker'))
  }
  const hours: DayHours[] = []
  for (const [index, row] of (kind === 'extra' ? input.hours : []).entries()) {
    const read = take(readHours(row.from, row.to), `hours.${index}`, problems)
    if (read === null) continue
    refuseOverlap(hours, read, 'that day', `hours.${index}`, problems)
    hours.push(read)
  }
  if (kind === 'extra' && input.hours.length === 0)
    problems.push(problem('hours', 'Extra hours: say from when to when.', 'hours'))
  const id = idOf(input.id, `${day} ${input.kind}`, almanac.specialDays)
  return unlessProblems(
    { id, day, kind: kind ?? 'closed', hours: inOrder(hours), maker, note: input.note.trim() },
    problems,
  )
}
