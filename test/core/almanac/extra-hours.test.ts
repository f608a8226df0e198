import fc from 'fast-check'
import { expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { withExtraHours } from '../../../core/almanac/extra-hours.ts'
import { instantOfLocal } from '../../../core/time/local-day.ts'
import { workingHours } from '../../../core/time/shop-calendar.ts'

const timeZone = 'America/Chicago'
const almanac = startingAlmanac({ timeZone, units: 'inch', currency: 'USD' })
const [maker] = almanac.makers
const start = instantOfLocal('2026-06-01', 0, timeZone)
const WEEK = 7 * 24 * 60

test('adds to the sessions of the maker just the hours that are given, over midnight too, and to nobody else’s', () => {
  const stretch = fc.record({ from: fc.nat(WEEK - 1), minutes: fc.integer({ min: 1, max: 900 }) })
  fc.assert(
    fc.property(fc.array(stretch, { minLength: 1, maxLength: 5 }), (given) => {
      const hours = given.map(({ from, minutes }) => ({ from: start + from, to: start + from + minutes }))
      const longer = withExtraHours(almanac, maker!.id, hours, 'For no. 7')
      const sessions = (id: string, days: typeof almanac.specialDays) =>
        workingHours(timeZone, { ...maker!, id }, days, start - WEEK, start + 2 * WEEK)
      const isOpen = (at: number, days: typeof almanac.specialDays) =>
        sessions(maker!.id, days).some(({ from, to }) => from <= at && at < to)
      for (const { from, to } of hours)
        for (const at of [from - 1, from, (from + to) >> 1, to - 1, to])
          expect(isOpen(at, longer.specialDays)).toBe(
            isOpen(at, almanac.specialDays) || hours.some((one) => one.from <= at && at < one.to),
          )
      expect(sessions('somebody else', longer.specialDays)).toEqual(sessions('somebody else', almanac.specialDays))
      expect(longer.specialDays.every(({ note, kind }) => note === 'For no. 7' && kind === 'extra')).toBe(true)
    }),
    { numRuns: 60 },
  )
})
