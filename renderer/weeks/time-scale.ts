import {
  daysLater,
  isoWeekday,
  localDay,
  startOfLocalDay,
  type IsoWeekday,
  type LocalDay,
} from '../../core/time/local-day.ts'

/** A stretch of the plan line laid along a ruler of so many pixels. */
export interface TimeScale {
  /** Whole minutes since the Unix epoch, [fromAt, toAt). */
  readonly fromAt: number
  readonly toAt: number
  /** Pixels. */
  readonly width: number
}

/** One local civil day on the ruler. */
export interface RulerDay {
  readonly day: LocalDay
  readonly weekday: IsoWeekday
  readonly fromAt: number
  readonly toAt: number
}

/** Where an instant lies, in pixels from the left; outside the stretch it is less than 0 or more than `width`. */
export const xOf = (scale: TimeScale, at: number): number =>
  ((at - scale.fromAt) / (scale.toAt - scale.fromAt)) * scale.width

/** The instant at a place on the ruler. */
export const atOf = (scale: TimeScale, x: number): number =>
  scale.fromAt + (x / scale.width) * (scale.toAt - scale.fromAt)

export const pixelsPerDay = (scale: TimeScale): number => (scale.width / (scale.toAt - scale.fromAt)) * DAY

/** The instant at which a civil day is over. */
export const endOfLocalDay = (day: LocalDay, timeZone: string): number => startOfLocalDay(daysLater(day, 1), timeZone)

/** The days that the stretch touches, the first and the last one whole. A day of a clock change is as long as it really is. */
export function daysOf(fromAt: number, toAt: number, timeZone: string): readonly RulerDay[] {
  const days: RulerDay[] = []
  let day = localDay(fromAt, timeZone)
  let start = startOfLocalDay(day, timeZone)
  while (start < toAt) {
    const nextDay = daysLater(day, 1)
    const next = startOfLocalDay(nextDay, timeZone)
    days.push({ day, weekday: isoWeekday(day), fromAt: start, toAt: next })
    day = nextDay
    start = next
  }
  return days
}

const DAY = 24 * 60
