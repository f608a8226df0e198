import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  daysLater,
  instantOfLocal,
  isLocalDay,
  isoWeekday,
  localDay,
  minuteOfLocalDay,
  startOfLocalDay,
} from '../../../core/time/local-day.ts'
import { isTimeZone } from '../../../core/time/zone-offsets.ts'

const utc = (text: string): number => Date.parse(`${text}Z`) / 60_000

describe('civil days', () => {
  test('the day is that of the wall clock, not of UTC', () => {
    expect(localDay(utc('2026-03-14T03:00'), 'America/Chicago')).toBe('2026-03-13')
    expect(localDay(utc('2026-03-13T15:00'), 'Australia/Sydney')).toBe('2026-03-14')
    expect(minuteOfLocalDay(utc('2026-03-14T03:00'), 'America/Chicago')).toBe(22 * 60)
  })

  test('14 March 2026 is a Saturday', () => {
    expect(isoWeekday('2026-03-14')).toBe(6)
    expect(isoWeekday('1969-12-31')).toBe(3)
    expect(daysLater('2026-02-28', 1)).toBe('2026-03-01')
    expect(daysLater('2028-03-01', -1)).toBe('2028-02-29')
  })

  // IANA: America/Havana changes at midnight; on 2026-03-08 the day begins at 1:00.
  test('a day whose midnight is skipped begins at the jump', () => {
    expect(startOfLocalDay('2026-03-08', 'America/Havana')).toBe(utc('2026-03-08T05:00'))
  })

  // IANA: Pacific/Apia skipped 30 December 2011 altogether.
  test('a day that a zone skipped is empty', () => {
    expect(startOfLocalDay('2011-12-30', 'Pacific/Apia')).toBe(startOfLocalDay('2011-12-31', 'Pacific/Apia'))
  })

  test.each(['2026-02-29', '2026-13-01', '26-01-01', '2026-1-1', ''])('%s is no day', (text) =>
    expect(isLocalDay(text)).toBe(false),
  )
  test('2028-02-29 is one', () => expect(isLocalDay('2028-02-29')).toBe(true))

  test('an unknown zone is told from a known one', () => {
    expect(isTimeZone('Europe/Berlin')).toBe(true)
    expect(isTimeZone('Middle/Earth')).toBe(false)
    expect(isTimeZone('+02:00')).toBe(false)
  })

  test('every instant lies in its own day', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(
          'America/New_York',
          'Europe/London',
          'Asia/Kathmandu',
          'Australia/Lord_Howe',
          'Pacific/Auckland',
        ),
        fc.integer({ min: utc('2000-01-01T00:00'), max: utc('2040-01-01T00:00') }),
        (zone, instant) => {
          const day = localDay(instant, zone)
          expect(startOfLocalDay(day, zone)).toBeLessThanOrEqual(instant)
          expect(startOfLocalDay(daysLater(day, 1), zone)).toBeGreaterThan(instant)
          expect(instantOfLocal(day, minuteOfLocalDay(instant, zone), zone)).toBeLessThanOrEqual(instant)
        },
      ),
    )
  })
})
