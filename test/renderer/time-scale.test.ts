import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { atOf, daysOf, endOfLocalDay, xOf } from '../../renderer/weeks/time-scale.ts'

const minute = (iso: string): number => Date.parse(iso) / 60_000

describe('the ruler of days', () => {
  test('a week has seven days, from midnight to midnight by the shop clock', () => {
    const days = daysOf(minute('2026-11-30T00:00:00-05:00'), minute('2026-12-07T00:00:00-05:00'), 'America/New_York')
    expect(days.map((day) => day.day)).toEqual([
      '2026-11-30',
      '2026-12-01',
      '2026-12-02',
      '2026-12-03',
      '2026-12-04',
      '2026-12-05',
      '2026-12-06',
    ])
    expect(days.map((day) => day.weekday)).toEqual([1, 2, 3, 4, 5, 6, 7])
  })

  // IANA time zone data: Germany leaves summer time on Sunday 25 October 2026 at 3:00, the United States on Sunday
  // 1 November 2026 at 2:00, Sydney begins it on Sunday 4 October 2026 at 2:00.
  test.each([
    ['Europe/Berlin', '2026-10-25T00:00:00+02:00', 25],
    ['America/New_York', '2026-11-01T00:00:00-04:00', 25],
    ['Australia/Sydney', '2026-10-04T00:00:00+10:00', 23],
  ])('a day on which the clocks change in %s is as long as it really is', (timeZone, midnight, hours) => {
    const [day] = daysOf(minute(midnight), minute(midnight) + 1, timeZone)
    expect(day?.fromAt).toBe(minute(midnight))
    expect((day?.toAt ?? 0) - (day?.fromAt ?? 0)).toBe(hours * 60)
  })

  test('days follow each other without gaps', () => {
    fc.assert(
      fc.property(fc.integer({ min: 29_000_000, max: 31_000_000 }), fc.integer({ min: 1, max: 180 }), (from, days) => {
        const ruler = daysOf(from, from + days * 1440, 'Europe/Lisbon')
        expect(ruler[0]?.fromAt).toBeLessThanOrEqual(from)
        expect(ruler.at(-1)?.toAt).toBeGreaterThanOrEqual(from + days * 1440)
        for (const [index, day] of ruler.entries()) {
          if (index > 0) expect(day.fromAt).toBe(ruler[index - 1]?.toAt)
        }
      }),
      { numRuns: 60 },
    )
  })

  test('a promise for a day holds until its midnight', () => {
    expect(endOfLocalDay('2026-12-12', 'America/New_York')).toBe(minute('2026-12-13T00:00:00-05:00'))
  })
})

describe('the scale', () => {
  test('a place on the ruler and its instant lead to each other', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 40_000_000 }),
        fc.integer({ min: 1440, max: 26 * 7 * 1440 }),
        fc.integer({ min: 100, max: 4000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (fromAt, long, width, share) => {
          const scale = { fromAt, toAt: fromAt + long, width }
          const at = fromAt + share * long
          expect(atOf(scale, xOf(scale, at))).toBeCloseTo(at, 3)
        },
      ),
    )
  })
})
