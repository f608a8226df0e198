import fc from 'fast-check'
import { expect, test } from 'vitest'
import { minutesWithin, weeksBetween, weeksFrom } from '../../../core/tally/weeks-of-hours.ts'
import { startOfLocalDay } from '../../../core/time/local-day.ts'

const chicago = (day: string): number => startOfLocalDay(day, 'America/Chicago')

test('weeks begin on Monday, and the one of the spring change is an hour short', () => {
  // Sunday 8 March 2026: clocks in Chicago go from 2:00 to 3:00.
  const [week, next] = weeksFrom('2026-03-08', 2, chicago)
  expect([week!.monday, next!.monday]).toEqual(['2026-03-02', '2026-03-09'])
  expect(week!.to - week!.from).toBe(7 * 1440 - 60)
  expect(next!.from).toBe(week!.to)
  expect(weeksBetween('2026-03-08', '2026-03-09')).toBe(1)
})

test('minutes of any stretches add up over weeks in a row to those within all of them', () => {
  const weeks = weeksFrom('2026-10-28', 4, chicago)
  const [from, to] = [weeks[0]!.from, weeks[3]!.to]
  const stretch = fc.tuple(fc.integer({ min: from - 9000, max: to + 9000 }), fc.integer({ min: 1, max: 20_000 }))
  fc.assert(
    fc.property(fc.array(stretch), (drawn) => {
      const stretches = drawn.map(([start, length]) => ({ from: start, to: start + length }))
      const byWeek = weeks.reduce((sum, week) => sum + minutesWithin(stretches, week), 0)
      expect(byWeek).toBe(minutesWithin(stretches, { from, to }))
    }),
  )
})
