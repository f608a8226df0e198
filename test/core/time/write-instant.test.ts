import { describe, expect, test } from 'vitest'
import {
  partOfDay,
  writeDay,
  writeDayAndTime,
  writeLocalDay,
  writeLongDay,
  writeWeekdayAndTime,
} from '../../../core/time/write-instant.ts'

const utc = (text: string): number => Date.parse(`${text}Z`) / 60_000
const saturday = utc('2026-03-14T15:00')
const london = { timeZone: 'Europe/London', locale: 'en-GB' }
const chicago = { timeZone: 'America/Chicago', locale: 'en-US' }

describe('instants in words', () => {
  test('the same instant in two shops', () => {
    expect([partOfDay(saturday, 'Europe/London'), partOfDay(saturday, 'America/Chicago')]).toEqual([
      'afternoon',
      'morning',
    ])
    expect(writeWeekdayAndTime(saturday, london)).toBe('Sat 15:00')
    expect(writeWeekdayAndTime(saturday, chicago)).toBe('Sat 10:00 AM')
    expect(writeDayAndTime(saturday, london)).toBe('Sat 14 Mar, 15:00')
    expect(writeLongDay(saturday, london)).toMatch(/^Saturday,? 14 March 2026$/)
    expect(writeDay(saturday, chicago)).toBe('Sat, Mar 14')
  })

  test('a civil day needs no zone', () => expect(writeLocalDay('2026-03-14', 'en-GB')).toBe('Sat 14 Mar'))

  test.each([
    ['2026-01-05T04:59', 'night'],
    ['2026-01-05T05:00', 'morning'],
    ['2026-01-05T12:00', 'afternoon'],
    ['2026-01-05T17:00', 'evening'],
    ['2026-01-05T22:00', 'night'],
  ])('%s is %s', (text, part) => expect(partOfDay(utc(text), 'UTC')).toBe(part))
})
