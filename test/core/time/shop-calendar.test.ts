import { tzOffset } from '@date-fns/tz'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { workingHours, type CalendarDay, type WeeklyHours } from '../../../core/time/shop-calendar.ts'

const utc = (text: string): number => Date.parse(`${text}Z`) / 60_000
const clock = (text: string): number => {
  const [hour = 0, minute = 0] = text.split(':').map(Number)
  return hour * 60 + minute
}
const hours = (from: string, to: string) => ({ from: clock(from), to: clock(to) })
const maker = (weeklyHours: WeeklyHours) => ({ id: 'a', weeklyHours })
const everyDay = (...day: ReturnType<typeof hours>[]): WeeklyHours => ({
  1: day,
  2: day,
  3: day,
  4: day,
  5: day,
  6: day,
  7: day,
})
const written = (sessions: readonly { from: number; to: number }[]) =>
  sessions.map(({ from, to }) => [from, to].map((at) => new Date(at * 60_000).toISOString().slice(0, 16)))

describe('usual weeks', () => {
  test('evenings and a Saturday become sessions on one line', () => {
    const week = maker({ 4: [hours('19:00', '21:30')], 6: [hours('9:00', '17:00')] })
    const sessions = workingHours('America/Chicago', week, [], utc('2026-01-05T06:00'), utc('2026-01-12T06:00'))
    expect(written(sessions)).toEqual([
      ['2026-01-09T01:00', '2026-01-09T03:30'],
      ['2026-01-10T15:00', '2026-01-10T23:00'],
    ])
  })

  test('a session under way is cut at the beginning and at the end of what is asked', () => {
    const sessions = workingHours(
      'UTC',
      maker(everyDay(hours('9:00', '17:00'))),
      [],
      utc('2026-01-05T10:15'),
      utc('2026-01-06T10:00'),
    )
    expect(written(sessions)).toEqual([
      ['2026-01-05T10:15', '2026-01-05T17:00'],
      ['2026-01-06T09:00', '2026-01-06T10:00'],
    ])
  })

  test('hours that touch at midnight are one session', () => {
    const night = maker({ 5: [hours('22:00', '24:00')], 6: [hours('0:00', '1:00')] })
    expect(written(workingHours('UTC', night, [], utc('2026-01-09T00:00'), utc('2026-01-11T00:00')))).toEqual([
      ['2026-01-09T22:00', '2026-01-10T01:00'],
    ])
  })

  test('nothing is asked, nothing is answered', () => {
    expect(workingHours('UTC', maker(everyDay(hours('9:00', '17:00'))), [], 100, 100)).toEqual([])
  })
})

describe('special days', () => {
  const week = maker({ 6: [hours('9:00', '17:00')] })
  const saturday = (...days: Omit<CalendarDay, 'day'>[]) =>
    written(
      workingHours(
        'UTC',
        week,
        days.map((one) => ({ ...one, day: '2026-01-10' })),
        utc('2026-01-10T00:00'),
        utc('2026-01-11T00:00'),
      ),
    )

  test('a closed day has no hours, for everybody or for the maker named', () => {
    expect(saturday({ kind: 'closed', hours: [], maker: null })).toEqual([])
    expect(saturday({ kind: 'closed', hours: [], maker: 'a' })).toEqual([])
    expect(saturday({ kind: 'closed', hours: [], maker: 'someone else' })).toHaveLength(1)
  })

  test('a fair takes the maker out of the shop', () => {
    expect(saturday({ kind: 'fair', hours: [], maker: null })).toEqual([])
  })

  test('extra hours join the usual ones where they touch', () => {
    expect(saturday({ kind: 'extra', hours: [hours('16:00', '20:00')], maker: null })).toEqual([
      ['2026-01-10T09:00', '2026-01-10T20:00'],
    ])
  })

  test('extra hours stand on a day that is otherwise closed', () => {
    const closed = { kind: 'closed', hours: [], maker: null } as const
    const extra = { kind: 'extra', hours: [hours('18:00', '20:00')], maker: 'a' } as const
    expect(saturday(closed, extra)).toEqual([['2026-01-10T18:00', '2026-01-10T20:00']])
    expect(saturday(extra, closed)).toEqual([['2026-01-10T18:00', '2026-01-10T20:00']])
  })
})

// Instants of the changes: IANA time zone database, rules US (2007 on: second Sunday of March, first of November, 2:00 wall clock), EU (1996 on: last Sunday
// of March and October, 1:00 UTC), AN (2008 on: first Sunday of April and October, 2:00 standard time), LH (half an hour).
describe.each([
  {
    zone: 'America/New_York',
    spring: '2026-03-08',
    autumn: '2026-11-01',
    springEvening: '23:00',
    autumnEvening: '00:00',
    shift: 60,
  },
  {
    zone: 'America/Los_Angeles',
    spring: '2026-03-08',
    autumn: '2026-11-01',
    springEvening: '02:00',
    autumnEvening: '03:00',
    shift: 60,
  },
  {
    zone: 'Europe/Berlin',
    spring: '2026-03-29',
    autumn: '2026-10-25',
    springEvening: '17:00',
    autumnEvening: '18:00',
    shift: 60,
  },
  {
    zone: 'Australia/Sydney',
    spring: '2026-10-04',
    autumn: '2026-04-05',
    springEvening: '08:00',
    autumnEvening: '09:00',
    shift: 60,
  },
  {
    zone: 'Australia/Lord_Howe',
    spring: '2026-10-04',
    autumn: '2026-04-05',
    springEvening: '08:00',
    autumnEvening: '08:30',
    shift: 30,
  },
])('daylight saving in $zone', ({ zone, spring, autumn, springEvening, autumnEvening, shift }) => {
  const on = (day: string, ...dayHours: ReturnType<typeof hours>[]) =>
    workingHours(
      zone,
      maker({}),
      [{ day, kind: 'extra', hours: dayHours, maker: null }],
      utc(`${day}T00:00`) - 2880,
      utc(`${day}T00:00`) + 2880,
    )
  const lengths = (day: string, ...dayHours: ReturnType<typeof hours>[]) =>
    on(day, ...dayHours).map(({ from, to }) => to - from)

  test('a night that loses an hour is that much shorter, one that gains it longer', () => {
    expect(lengths(spring, hours('0:00', '6:00'))).toEqual([360 - shift])
    expect(lengths(autumn, hours('0:00', '6:00'))).toEqual([360 + shift])
  })

  test('19:00 by the wall clock stays 19:00 on both sides of the change', () => {
    expect(new Date((on(spring, hours('19:00', '21:00'))[0]?.from ?? 0) * 60_000).toISOString().slice(11, 16)).toBe(
      springEvening,
    )
    expect(new Date((on(autumn, hours('19:00', '21:00'))[0]?.from ?? 0) * 60_000).toISOString().slice(11, 16)).toBe(
      autumnEvening,
    )
  })

  test('hours inside the skipped hour vanish', () => {
    expect(lengths(spring, hours('2:00', '2:30'))).toEqual([])
  })

  test('a start inside the skipped hour is the moment of the jump', () => {
    expect(lengths(spring, hours('2:15', '4:00'))).toEqual([shift === 60 ? 60 : 90])
  })
})

describe('a time shown twice counts at its first showing', () => {
  test('half past one in New York on the first of November', () => {
    const extra = (from: string, to: string) =>
      written(
        workingHours(
          'America/New_York',
          maker({}),
          [{ day: '2026-11-01', kind: 'extra', hours: [hours(from, to)], maker: null }],
          utc('2026-10-31T00:00'),
          utc('2026-11-03T00:00'),
        ),
      )
    expect(extra('1:00', '1:30')).toEqual([['2026-11-01T05:00', '2026-11-01T05:30']])
    expect(extra('1:30', '3:00')).toEqual([['2026-11-01T05:30', '2026-11-01T08:00']])
  })
})

const ZONES = [
  'America/Chicago',
  'Europe/London',
  'Australia/Adelaide',
  'Asia/Kolkata',
  'Pacific/Apia',
  'America/St_Johns',
  'Africa/Casablanca',
  'UTC',
]

describe('always', () => {
  const weekly: fc.Arbitrary<WeeklyHours> = fc
    .array(
      fc.tuple(fc.integer({ min: 1, max: 7 }), fc.integer({ min: 0, max: 1439 }), fc.integer({ min: 1, max: 700 })),
      { maxLength: 9 },
    )
    .map((rows) => {
      const week: Record<number, { from: number; to: number }[]> = {}
      for (const [weekday, from, length] of rows)
        (week[weekday] ??= []).push({ from, to: Math.min(1440, from + length) })
      return week as WeeklyHours
    })

  // Backup contact: ask the platform's own formatter what the wall clock shows at every quarter of an hour.
  test('a minute is in a session exactly when the wall clock shows one of the hours', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        fc.integer({ min: utc('2024-01-01T00:00') / 15, max: utc('2030-12-01T00:00') / 15 }),
        (zone, quarter) => {
          const from = quarter * 15
          const shown = new Intl.DateTimeFormat('en-GB', {
            timeZone: zone,
            weekday: 'short',
            hour: '2-digit',
            minute: '2-digit',
            hourCycle: 'h23',
          })
          const sessions = workingHours(
            zone,
            maker({ 3: [hours('8:00', '12:00')], 7: [hours('9:15', '19:45')] }),
            [],
            from,
            from + 8 * 1440,
          )
          for (let at = from; at < from + 8 * 1440; at += 15) {
            const [weekday = '', time = ''] = shown.format(new Date(at * 60_000)).split(/[ ,]+/)
            const minute = clock(time)
            const open =
              (weekday === 'Wed' && minute >= 480 && minute < 720) ||
              (weekday === 'Sun' && minute >= 555 && minute < 1185)
            if (sessions.some((one) => one.from <= at && at < one.to) !== open) return false
          }
          return true
        },
      ),
      { numRuns: 60 },
    )
  })

  test('sessions are sorted, apart, not empty, inside what was asked, and the same when asked in two parts', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        weekly,
        fc.integer({ min: utc('2024-01-01T00:00'), max: utc('2030-01-01T00:00') }),
        fc.integer({ min: 1, max: 60_000 }),
        fc.integer({ min: 1, max: 60_000 }),
        (zone, week, from, first, second) => {
          const whole = workingHours(zone, maker(week), [], from, from + first + second)
          for (const [index, one] of whole.entries()) {
            expect(one.from).toBeLessThan(one.to)
            expect(one.from).toBeGreaterThan(whole[index - 1]?.to ?? -Infinity)
          }
          const parts = [
            ...workingHours(zone, maker(week), [], from, from + first),
            ...workingHours(zone, maker(week), [], from + first, from + first + second),
          ]
          const total = (sessions: typeof whole) => sessions.reduce((sum, one) => sum + one.to - one.from, 0)
          expect(total(parts)).toBe(total(whole))
          expect(whole[0]?.from ?? from).toBeGreaterThanOrEqual(from)
          expect(whole.at(-1)?.to ?? from).toBeLessThanOrEqual(from + first + second)
        },
      ),
    )
  })

  test('ten years of a maker take less time than looking each end of a session up in the zone’s data', () => {
    const from = utc('2026-01-01T00:00')
    const week = maker(everyDay(hours('9:00', '12:00'), hours('19:00', '21:30')))
    const tenYears = () => workingHours('America/New_York', week, [], from, from + 3653 * 1440)
    const sessions = tenYears()
    const lookedUp = () =>
      sessions.map((one) => [one.from, one.to].map((at) => tzOffset('America/New_York', new Date(at * 60_000))))
    const lasts = (work: () => unknown): number => {
      const began = performance.now()
      work()
      return performance.now() - began
    }
    // In turns, so that whatever else the machine does meets both.
    const measured = Array.from({ length: 5 }, () => [lasts(tenYears), lasts(lookedUp)] as const)
    const least = (which: 0 | 1): number => Math.min(...measured.map((each) => each[which]))
    expect(least(0)).toBeLessThan(least(1) / 2)
  })
})
