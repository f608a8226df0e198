import type { Maker, SpecialDay } from '../core/almanac/almanac.ts'
import type { WeeklyHours } from '../core/time/shop-calendar.ts'
import type { AlmanacRows } from './almanac-row-sets.ts'

const WEEKDAYS = [1, 2, 3, 4, 5, 6, 7] as const

export const makerHours = ({ id, weeklyHours }: Maker) =>
  WEEKDAYS.flatMap((weekday) =>
    (weeklyHours[weekday] ?? []).map(({ from, to }) => ({ maker_id: id, weekday, from_min: from, to_min: to })),
  )

export const makersOf = (rows: AlmanacRows): Maker[] =>
  rows.maker.map(({ id, name, attendance }) => ({
    id,
    name,
    attendance,
    weeklyHours: weeklyHoursOf(rows.maker_hours.filter((row) => row.maker_id === id)),
  }))

/** A weekday without hours is left out: a day off. */
const weeklyHoursOf = (rows: AlmanacRows['maker_hours']): WeeklyHours =>
  Object.fromEntries(
    WEEKDAYS.map((weekday) => [weekday, hoursOf(rows.filter((row) => row.weekday === weekday))] as const).filter(
      ([, hours]) => hours.length > 0,
    ),
  )

const hoursOf = (rows: readonly { from_min: number; to_min: number }[]) =>
  rows.map((row) => ({ from: row.from_min, to: row.to_min }))

export const specialDaysOf = (rows: AlmanacRows): SpecialDay[] =>
  rows.special_day.map(({ id, day, kind, maker_id, note }) => ({
    id,
    day,
    kind,
    maker: maker_id,
    note,
    hours: hoursOf(rows.special_day_hours.filter((row) => row.special_day_id === id)),
  }))
