import { expect, test } from 'vitest'
import { saySession } from '../../renderer/say-time.ts'

const wording = { timeZone: 'America/Chicago', locale: 'en-US' }
/** Tuesday 10 March 2026, 9 in the morning of that shop. */
const nowMin = Date.parse('2026-03-10T14:00:00Z') / 60_000
const DAY_MIN = 24 * 60
const inDays = (days: number): string => saySession(nowMin + 10 * 60 + days * DAY_MIN, nowMin, wording)

test('an evening to come goes by its weekday, one that is over by its date, so that both can stand in one table', () => {
  expect(inDays(0)).toBe('this evening')
  expect(inDays(5)).toBe('Sun evening')
  expect(inDays(7)).toBe('Tue, Mar 17, evening')
  expect([inDays(-1), inDays(-2)]).toEqual(['Mon, Mar 9, evening', 'Sun, Mar 8, evening'])
})
