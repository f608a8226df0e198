import type { StepEntry } from '../../core/book/book.ts'
import { hoursLogged, joined } from '../../core/book/hours-logged.ts'
import { minutesWithin, weeksBetween, weeksFrom, type TimeStretch } from '../../core/tally/weeks-of-hours.ts'
import { LONGEST_STRETCH_MIN } from '../../core/book/work-done.ts'
import { daysLater, localDay } from '../../core/time/local-day.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import { whileOver, type NewestWork } from '../learning/newest-work.ts'
import type { Moment } from '../moment.ts'

/** Minutes of one week, of all makers together. */
export interface HoursOfWeek {
  readonly monday: string
  /** By the almanac as it is now. */
  readonly openMin: number
  /** Logged in weeks that are over, planned in those to come. */
  readonly workMin: number
}

const WEEKS_SHOWN = 8

/** The last weeks up to the present one, from the first press on. */
export function hoursBehind(newest: NewestWork, moment: Moment): HoursOfWeek[] {
  const first = newest.firstEntry()
  if (first === null) return []
  const { today, almanac, setting, now } = moment
  const began = localDay(first.atMin, almanac.shop.timeZone)
  const count = Math.min(WEEKS_SHOWN, (began > today ? 0 : weeksBetween(began, today)) + 1)
  const weeks = weeksFrom(daysLater(today, -7 * (count - 1)), count, setting.startOfDay)
  const open = openHours(moment, weeks[0]?.from ?? now, now)
  const from = (weeks[0]?.from ?? now) - LONGEST_STRETCH_MIN
  const inHand = newest.running()
  // Of thousands of steps only those in hand go on: what is over stays as it was, up to the end of the hour.
  const { until } = hoursLogged([], now)
  const before = whileOver(newest.over, 'hours lately', [from, until], () => {
    const ids = new Set(inHand.map(({ step }) => step.id))
    const over = newest.entries().filter(({ stepId }) => !ids.has(stepId))
    return hoursByMaker(over, from, now)
  })
  const going = inHand.flatMap(({ entries }) => entries).sort((a, b) => a.id - b.id)
  const present = hoursByMaker(going, from, now)
  const makers = new Set([...before.keys(), ...present.keys()])
  const worked = [...makers].flatMap((maker) => joined([...(before.get(maker) ?? []), ...(present.get(maker) ?? [])]))
  return weeks.map((week) => ({
    monday: week.monday,
    openMin: minutesWithin(open, week),
    workMin: minutesWithin(worked, { from: week.from, to: Math.min(week.to, now) }),
  }))
}

/** When each maker worked, of the steps that something was logged at since `from`. */
function hoursByMaker(entries: readonly StepEntry[], from: number, now: number) {
  const lately = new Set<string>()
  for (const { stepId, atMin } of entries) if (atMin >= from) lately.add(stepId)
  const byMaker = entriesByMaker(entries.filter(({ stepId }) => lately.has(stepId)))
  return new Map([...byMaker].map(([maker, own]) => [maker, hoursLogged(own, now).stretches]))
}

/** The weeks to come, from now on. */
export function hoursAhead(moment: Moment): HoursOfWeek[] {
  const { plan, today, setting, now } = moment
  if (plan === null || plan.steps.length === 0) return []
  const weeks = weeksFrom(today, WEEKS_SHOWN, setting.startOfDay)
  const open = openHours(moment, now, weeks.at(-1)?.to ?? now)
  const work = plan.steps.flatMap(({ stretches, makers }) => makers.flatMap(() => stretches))
  return weeks.map((week) => {
    const left = { from: Math.max(week.from, now), to: week.to }
    return { monday: week.monday, openMin: minutesWithin(open, left), workMin: minutesWithin(work, left) }
  })
}

const openHours = ({ almanac }: Moment, from: number, to: number): TimeStretch[] =>
  almanac.makers.flatMap((maker) => workingHours(almanac.shop.timeZone, maker, almanac.specialDays, from, to))

/** A step's presses belong to whoever started it. */
function entriesByMaker(entries: readonly StepEntry[]): Map<string | null, StepEntry[]> {
  const startedBy = new Map<string, string | null>()
  for (const { stepId, action, makerId } of entries)
    if (action.kind === 'started' && !startedBy.has(stepId)) startedBy.set(stepId, makerId)
  return Map.groupBy(entries, ({ stepId }) => startedBy.get(stepId) ?? null)
}
