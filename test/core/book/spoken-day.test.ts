import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findDay } from '../../../core/book/spoken-day.ts'
import { daysLater, isoWeekday } from '../../../core/time/local-day.ts'

// 25 November 2026 is a Wednesday (ISO 8601 week 48); days below are counted on a calendar sheet by hand.
const today = '2026-11-25'
const dayIn = (line: string) => findDay(line, today)?.day ?? null

describe('a day is understood as it is said', () => {
  test.each([
    ['by 12 Dec', '2026-12-12'],
    ['by 12 December', '2026-12-12'],
    ['by Dec 12th', '2026-12-12'],
    ['by the 12th of December', '2026-12-12'],
    ['due Dec. 12, 2027', '2027-12-12'],
    ['by Sat 12 Dec', '2026-12-12'],
    ['by Saturday, Dec 12', '2026-12-12'],
    ['needed by 2027-02-01', '2027-02-01'],
    ['by the 15th', '2026-12-15'],
    ['by the 30th', '2026-11-30'],
    ['by Saturday', '2026-11-28'],
    ['by Wednesday', '2026-12-02'],
    ['by next Friday', '2026-12-04'],
    ['by Saturday week', '2026-12-05'],
    ['in 3 weeks', '2026-12-16'],
    ['in two months', '2027-01-25'],
    ['by end of January', '2027-01-31'],
    ['by the end of the month', '2026-11-30'],
    ['by the end of the week', '2026-11-29'],
    ['by 3 Jan', '2027-01-03'],
    ['by 29 Feb', '2028-02-29'],
    ['by 25 Nov', '2026-11-25'],
    ['by Nov 25', '2026-11-25'],
    ['by the 25th', '2026-11-25'],
    ['by today', '2026-11-25'],
    ['by tonight', '2026-11-25'],
    ['by tomorrow', '2026-11-26'],
    ['by 24 Nov', '2027-11-24'],
  ])('%s is %s', (line, day) => expect(dayIn(line)).toBe(day))
})

test('before a day means the day before it', () => expect(dayIn('before 12 Dec')).toBe('2026-12-11'))

test('for a feast it is there the day before, and the feast is remembered', () => {
  expect(findDay('something for Christmas', today)).toMatchObject({ day: '2026-12-24', feast: 'Christmas' })
  expect(findDay("before Valentine's day", today)).toMatchObject({ day: '2027-02-13' })
})

test.each([
  'a board 3/4 thick',
  'by 12/12',
  '16 x 12',
  'walnut may be nice',
  'by hand',
  'by 40 Dec',
  'Sat on the bench',
  '',
])('no day is heard in “%s”', (line) => expect(dayIn(line)).toBeNull())

test('the stretch that says the day is told, so that it can be taken out', () => {
  const line = '2 boards, by 12 Dec, oil'
  const found = findDay(line, today)
  expect(line.slice(found?.from, found?.to)).toBe('by 12 Dec')
})

test('a weekday is always one to seven days ahead, whatever day it is today', () => {
  const names = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 20_000 }), fc.integer({ min: 1, max: 7 }), (days, weekday) => {
      const from = daysLater('2000-01-01', days)
      const said = findDay(`by ${names[weekday - 1]}`, from)?.day ?? ''
      expect(isoWeekday(said)).toBe(weekday)
      expect(said > from && said <= daysLater(from, 7)).toBe(true)
    }),
  )
})
