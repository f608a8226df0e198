import type { Interval } from '../planning/index.ts'
import { firstReached, zoneOffsets } from './zone-offsets.ts'
import { dayNumber, isoWeekdayOf, type IsoWeekday, type LocalDay } from './local-day.ts'

/** A stretch of the local civil day, minutes since local midnight, half-open: 19:00-21:30 is {from: 1140, to: 1290}. 0 <= from < to <= 1440. */
export interface DayHours {
  readonly from: number
  readonly to: number
}

/** Hours in the shop by ISO weekday (1 = Monday); a weekday that is missing is a day off. */
export type WeeklyHours = { readonly [weekday in IsoWeekday]?: readonly DayHours[] }

/** What the calendar needs to know of a maker. */
export interface CalendarMaker {
  readonly id: string
  readonly weeklyHours: WeeklyHours
}

/** A day unlike its weekday. 'closed' and 'fair' take the weekly hours away, 'extra' adds its own hours; extra hours also stand on a closed day. */
export interface CalendarDay {
  readonly day: LocalDay
  readonly kind: 'closed' | 'extra' | 'fair'
  /** Only for 'extra'. */
  readonly hours: readonly DayHours[]
  /** Null: everybody. */
  readonly maker: string | null
}

/**
 * One maker's working hours as sorted, disjoint sessions on the plan line, cut to [from, to). Hours that touch or overlap become one session.
 *
 * Daylight saving: a session is as long as it really is (00:00-06:00 lasts five hours in the night of the spring change, seven in autumn's).
 * A time that the clocks skip counts as the moment of the jump, so hours wholly inside the skipped hour vanish; a time that they show twice counts at
 * its first showing.
 * @param timeZone IANA name
 */
export function workingHours(
  timeZone: string,
  maker: CalendarMaker,
  specialDays: readonly CalendarDay[],
  from: number,
  to: number,
): Interval[] {
  if (!(to > from)) return []
  const offsets = zoneOffsets(timeZone, from, to)
  const special = specialDaysOf(maker.id, specialDays)
  const sessions: Interval[] = []
  let recent = 0
  const lastDay = Math.floor((to + DAY) / DAY)
  for (let day = Math.floor((from - DAY) / DAY); day <= lastDay; day += 1) {
    while (recent + 1 < offsets.length && (offsets[recent + 1]?.from ?? Infinity) < (day - 2) * DAY) recent += 1
    const nearby = recent === 0 ? offsets : offsets.slice(recent, recent + 4)
    for (const hours of hoursOfDay(maker.weeklyHours, day, special)) {
      addSession(sessions, firstReached(nearby, day * DAY + hours.from), firstReached(nearby, day * DAY + hours.to))
    }
  }
  return sessions
    .map((session) => ({ from: Math.max(session.from, from), to: Math.min(session.to, to) }))
    .filter((session) => session.from < session.to)
}

const DAY = 24 * 60

type SpecialDays = ReadonlyMap<number, { readonly off: boolean; readonly extra: readonly DayHours[] }>

function specialDaysOf(maker: string, specialDays: readonly CalendarDay[]): SpecialDays {
  const days = new Map<number, { off: boolean; extra: readonly DayHours[] }>()
  for (const special of specialDays) {
    if (special.maker !== null && special.maker !== maker) continue
    const number = dayNumber(special.day)
    const known = days.get(number) ?? { off: false, extra: [] }
    days.set(
      number,
      special.kind === 'extra' ? { ...known, extra: [...known.extra, ...special.hours] } : { ...known, off: true },
    )
  }
  return days
}

function hoursOfDay(weekly: WeeklyHours, day: number, special: SpecialDays): readonly DayHours[] {
  const usual = weekly[isoWeekdayOf(day)] ?? []
  const here = special.get(day)
  if (here === undefined) return usual.length < 2 ? usual : mergedHours(usual)
  return mergedHours(here.off ? here.extra : [...usual, ...here.extra])
}

function mergedHours(hours: readonly DayHours[]): readonly DayHours[] {
  const merged: Interval[] = []
  for (const one of hours.toSorted((a, b) => a.from - b.from)) addSession(merged, one.from, one.to)
  return merged
}

function addSession(sessions: Interval[], from: number, to: number): void {
  if (!(from < to)) return
  const last = sessions.at(-1)
  if (last !== undefined && from <= last.to)
    sessions[sessions.length - 1] = { from: last.from, to: Math.max(last.to, to) }
  else sessions.push({ from, to })
}
