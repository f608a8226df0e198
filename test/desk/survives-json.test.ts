import fc from 'fast-check'
import { expect, test } from 'vitest'
import { lostInJson } from '../../desk/survives-json.ts'

test.each([
  ['a date', { due: new Date(0) }, 'due'],
  ['a map', { pieces: [{ steps: new Map() }] }, 'pieces.0.steps'],
  ['a set', new Set(), ''],
  ['a large integer', { id: 7n }, 'id'],
  ['no number', [1, Number.NaN], '1'],
  ['infinity', { latest: Infinity }, 'latest'],
  ['a hole in a list', [1, undefined], '1'],
  ['a function', { close: () => undefined }, 'close'],
  ['an object that writes itself otherwise', { at: { toJSON: () => 'x' } }, 'at'],
  ['an instance of a class', { bytes: new Uint8Array(1) }, 'bytes'],
])('finds %s', (_, value, path) => {
  expect(lostInJson(value)).toBe(path)
})

test('leaves alone what reads the same afterwards', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(lostInJson(value)).toBeUndefined()
    }),
  )
  expect(lostInJson({ doneAt: undefined })).toBeUndefined()
})

test('finds every value that JSON would change', () => {
  const anything = fc.anything({ withDate: true, withMap: true, withSet: true, withBigInt: true, withTypedArray: true })
  fc.assert(
    fc.property(anything, (value) => {
      fc.pre(lostInJson(value) === undefined && value !== undefined)
      // `toEqual` takes a missing field and an undefined one for the same, and so does who reads them.
      const sent: unknown = JSON.parse(JSON.stringify(value))
      expect(withoutNegativeZero(sent)).toEqual(withoutNegativeZero(value))
    }),
  )
})

/** JSON writes -0 as 0, which compares the same everywhere but here. */
function withoutNegativeZero(value: unknown): unknown {
  if (typeof value === 'number') return value + 0
  if (Array.isArray(value)) return value.map(withoutNegativeZero)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, withoutNegativeZero(inner)]))
}
