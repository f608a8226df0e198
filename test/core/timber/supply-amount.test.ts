import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isLow } from '../../../core/book/supplies.ts'
import { readAmount, writeAmount } from '../../../core/timber/supply-amount.ts'

const read = (text: string, kind: 'glue' | 'finish' | 'hardware', units: 'inch' | 'millimetre' = 'inch') => {
  const amount = readAmount(text, kind, units)
  return amount.ok ? amount.value : amount.problems[0]?.code
}

describe('how much is in stock, as typed', () => {
  // NIST Handbook 44, appendix C: 1 lb = 453.592 g, 1 qt = 946.353 ml, 1 gal = 3785.412 ml, 1 fl oz = 29.5735 ml.
  it.each([
    ['1 lb', 'glue', 453.59237],
    ['16 oz', 'glue', 453.59237],
    ['1/2 gal', 'finish', 1892.705892],
    ['1 1/2 qt', 'finish', 1419.529419],
    ['500 ml', 'finish', 500],
    ['8', 'finish', 236.588236],
    ['12', 'hardware', 12],
    ['', 'glue', null],
  ] as const)('%s of %s', (text, kind, amount) => {
    const value = read(text, kind)
    if (typeof amount === 'number') expect(value).toBeCloseTo(amount, 4)
    else expect(value).toBe(amount)
  })

  it('a bare figure is in grams and milliliters in a metric shop', () => {
    expect([read('250', 'glue', 'millimetre'), read('250', 'finish', 'millimetre')]).toEqual([250, 250])
  })

  it.each([
    ['half', 'glue'],
    ['3 lb', 'finish'],
    ['2.5', 'hardware'],
    ['-4', 'hardware'],
    ['1/0 qt', 'finish'],
  ] as const)('refuses %s of %s', (text, kind) => expect(read(text, kind)).toBe('amount'))

  it('is typed back as it was within a tenth of its unit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 5000 }),
        fc.constantFrom('glue' as const, 'finish' as const, 'hardware' as const),
        fc.constantFrom('inch' as const, 'millimetre' as const),
        (amount, kind, units) => {
          expect(Number(read(writeAmount(amount, kind, units), kind, units))).toBeCloseTo(amount, -0.5)
        },
      ),
    )
  })
})

it('what is out, at its mark or less than the orders take is to be bought; what nobody counts is not', () => {
  const supply = { outSince: null, amount: 100, reorderAt: 50 }
  expect([
    isLow(supply, 0),
    isLow(supply, 101),
    isLow({ ...supply, amount: 50 }, 0),
    isLow({ ...supply, outSince: '2026-03-03' }, 0),
    isLow({ ...supply, amount: null }, 1000),
    isLow({ ...supply, amount: 0, reorderAt: null }, 0),
  ]).toEqual([false, true, true, true, false, false])
})
