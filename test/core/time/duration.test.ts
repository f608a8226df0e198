import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { durationWords, readDuration, workWords, writeDuration } from '../../../core/time/duration.ts'

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

describe('a duration in words', () => {
  test.for([
    [0.4, '0 min'],
    [45, '45 min'],
    [90, '1 h 30 min'],
    [1439.6, '1 day'],
    [1530, '1 day 2 h'],
    [2880, '2 days'],
    [-5, '0 min'],
  ] as const)('%f min is %s', ([minutes, words]) => {
    expect(durationWords(minutes)).toBe(words)
  })

  test('hands-on time has no days', () => {
    expect(workWords(1530)).toBe('25 h 30 min')
  })
})
