import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cureBegun, cureOver, cureTimeOf } from '../../../core/planning/rules/cure-time.ts'

const START = 1000
/** Runs and stillness by turns, as nights in a shop that is heated for work; it goes on for ever at the end. */
const clocks = fc
  .array(fc.record({ minutes: fc.integer({ min: 1, max: 400 }), rate: fc.constantFrom(0, 0, 0.1, 0.37, 1, 1.7) }), {
    minLength: 1,
    maxLength: 12,
  })
  .map((parts) => {
    let from = START
    const segments = parts.map(({ minutes, rate }) => {
      const segment = { from, rate }
      from += minutes
      return segment
    })
    return cureTimeOf({ id: 'clock', segments: [...segments, { from, rate: 1 }] })
  })
const wait = fc.integer({ min: 0, max: 500 })

describe('a wait on a clock', () => {
  test('begins at the least minute from which it is not over too soon', () => {
    fc.assert(
      fc.property(clocks, wait, fc.integer({ min: 0, max: 3000 }), (clock, minutes, after) => {
        const over = cureOver(clock, START + after, minutes)
        const begun = cureBegun(clock, over, minutes)
        expect(cureOver(clock, begun, minutes)).toBeGreaterThanOrEqual(over)
        // Minute by minute from where the clock begins; before that nothing is counted on.
        let least = START
        while (cureOver(clock, least, minutes) < over) least++
        if (least > START) expect(begun).toBe(least)
        else expect(begun).toBeLessThanOrEqual(START)
      }),
      { numRuns: 500 },
    )
  })

  test('may have to begin later than any wait would be over, where the clock stands still in between', () => {
    const clock = cureTimeOf({
      id: 'night',
      segments: [
        { from: 0, rate: 1 },
        { from: 100, rate: 0 },
        { from: 200, rate: 1 },
      ],
    })
    // 30 minutes of which the first ten are before the night are over at 220; nothing is over between 100 and 200.
    expect(cureOver(clock, 90, 30)).toBe(220)
    expect(cureBegun(clock, 220, 30)).toBe(90)
    expect(cureBegun(clock, 150, 30)).toBe(71)
  })
})
