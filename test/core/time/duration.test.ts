import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readDuration, writeDuration } from '../../../core/time/duration.ts'

describe('elapsed time', () => {
  test.each([
    ['90 min', 90],
    ['24 h', 1440],
    ['24h', 1440],
    ['1.5 h', 90],
    ['1,5 h', 90],
    ['1 h 30 min', 90],
    ['3 d', 4320],
    ['2 weeks', 20160],
    ['1 day 12 hours', 2160],
    ['0', 0],
  ])('%s is %d minutes', (text, minutes) => expect(readDuration(text, 'min')).toEqual({ ok: true, value: minutes }))

  test('a bare number is in the unit of the field', () =>
    expect(readDuration('24', 'h')).toEqual({ ok: true, value: 1440 }))

  test.each(['', 'tonight', '-3 h', '3 fortnights', '30 min 1 h', '1 h 2 h', '99999 d', '1 2'])(
    '“%s” is refused in a sentence',
    (text) => {
      const read = readDuration(text, 'h')
      expect(read.ok ? [] : read.problems[0]?.message).toMatch(/[.]$/)
    },
  )

  test('what is written reads back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5_000_000 }), (minutes) => {
        expect(readDuration(writeDuration(minutes), 'min')).toEqual({ ok: true, value: minutes })
      }),
    )
  })
})
