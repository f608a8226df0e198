import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readTimeOfDay, writeTimeOfDay } from '../../../core/time/time-of-day.ts'

test.each([
  ['19:00', 1140],
  ['7 pm', 1140],
  ['7pm', 1140],
  ['12 am', 0],
  ['12:30 pm', 750],
  ['9', 540],
  ['9.30', 570],
  ['noon', 720],
  ['24:00', 1440],
])('%s is minute %d of the day', (text, minute) => expect(readTimeOfDay(text)).toEqual({ ok: true, value: minute }))

test.each(['', '25:00', '24:30', '9:60', '13 pm', '0 am', 'evening'])('“%s” is refused in a sentence', (text) => {
  const read = readTimeOfDay(text)
  expect(read.ok ? '' : read.problems[0]?.message).toMatch(/[.]$/)
})

test('what is written reads back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1440 }), (minute) => {
      expect(readTimeOfDay(writeTimeOfDay(minute))).toEqual({ ok: true, value: minute })
      expect(readTimeOfDay(writeTimeOfDay(minute, true))).toEqual({ ok: true, value: minute })
    }),
  )
})
