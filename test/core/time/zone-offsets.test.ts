import { tzOffset } from '@date-fns/tz'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { offsetAt } from '../../../core/time/zone-offsets.ts'

const ZONES = ['America/New_York', 'Europe/Berlin', 'Australia/Lord_Howe', 'Africa/Casablanca', 'Asia/Kathmandu', 'UTC']
const MINUTES = { from: Date.UTC(1990, 0) / 60_000, to: Date.UTC(2036, 0) / 60_000 }

const lookedUp = (zone: string, instant: number): number => Math.round(tzOffset(zone, new Date(instant * 60_000)))

test('the offset that is kept of a week is the one that the time zone data have of each minute', () => {
  const instant = fc.integer({ min: MINUTES.from, max: MINUTES.to })
  fc.assert(
    fc.property(fc.constantFrom(...ZONES), instant, (zone, at) => {
      for (const each of [at, at + 1, at + 1440, at - 1440]) expect(offsetAt(zone, each)).toBe(lookedUp(zone, each))
    }),
    { numRuns: 500 },
  )
})

test('clocks change at the very minute, in spring and in autumn', () => {
  const spring = Date.UTC(2026, 2, 8, 7) / 60_000
  const autumn = Date.UTC(2026, 10, 1, 6) / 60_000
  for (const change of [spring, autumn])
    expect([change - 1, change].map((at) => offsetAt('America/New_York', at))).toEqual(
      change === spring ? [-300, -240] : [-240, -300],
    )
  // Half an hour, at 15:30 by UTC.
  const lordHowe = Date.UTC(2026, 9, 3, 15, 30) / 60_000
  expect([lordHowe - 1, lordHowe].map((at) => offsetAt('Australia/Lord_Howe', at))).toEqual([630, 660])
})
