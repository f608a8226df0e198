import fc from 'fast-check'
import { expect, test } from 'vitest'
import { labelsAt } from '../../renderer/widgets/labels-at.ts'

test('labels with room stand centered under their marks', () => {
  expect(labelsAt([100, 250, 400], 80, 500)).toEqual([60, 210, 360])
})

test('labels of marks close to each other stand side by side, in the order of the marks', () => {
  expect(labelsAt([200, 210, 220], 80, 500)).toEqual([160, 240, 320])
  expect(labelsAt([470, 480, 490], 80, 500)).toEqual([260, 340, 420])
})

test('labels never overlap and never leave the line', () => {
  const marks = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 3 })
  fc.assert(
    fc.property(marks, fc.integer({ min: 240, max: 900 }), (shares, width) => {
      const labelWidth = width / 3.2
      const lefts = labelsAt(
        shares.toSorted((a, b) => a - b).map((share) => share * width),
        labelWidth,
        width,
      )
      for (const [at, left] of lefts.entries()) {
        expect(left).toBeGreaterThanOrEqual(-1e-6)
        expect(left + labelWidth).toBeLessThanOrEqual((lefts[at + 1] ?? width) + 1e-6)
      }
    }),
  )
})
