import { describe, expect, test } from 'vitest'
import { isoCurrency } from '../../../core/money/currency.ts'
import { costOfSupply, priceKeyOf, readSupplyPrice } from '../../../core/timber/supply-price.ts'

const usd = isoCurrency('USD')
const read = (text: string, kind: 'glue' | 'finish' | 'hardware') => {
  const price = readSupplyPrice(text, kind, 'inch', usd)
  return price.ok ? price.value : price.problems[0]?.code
}

describe('what supplies cost', () => {
  // 180 g of glue at 13.20 a kilogram: 2.376, so 2.38; 95 ml of oil at 24.00 a liter: 2.28.
  test('is the amount at its price, rounded once', () => {
    expect(costOfSupply(180, { minor: 1_320, amount: 1000 })).toBe(238)
    expect(costOfSupply(95, { minor: 2_400, amount: 1000 })).toBe(228)
  })

  // NIST Handbook 44, appendix C: a pound is 453.59237 g, a quart 946.352946 ml.
  test.each([
    ['13.20 per kg', 'glue', 1_320, 1000],
    ['24 for 16 oz', 'glue', 2_400, 453.59237],
    ['30 / qt', 'finish', 3_000, 946.352946],
    ['6 for 12', 'hardware', 600, 12],
    ['0.50', 'hardware', 50, 1],
  ] as const)('is read from %s', (text, kind, minor, amount) => {
    const price = read(text, kind)
    expect(price).toMatchObject({ minor, typed: text })
    expect(typeof price === 'object' && price !== null ? price.amount : 0).toBeCloseTo(amount, 6)
  })

  test.each([
    ['24', 'glue'],
    ['24 for some', 'glue'],
    ['30 for 0 qt', 'finish'],
  ] as const)('is refused in a sentence: %s', (text, kind) => {
    expect(read(text, kind)).toBe('supply-price')
  })

  test('is nothing while nothing is typed', () => expect(read(' ', 'glue')).toBeNull())

  test('of screws is not that of what they hold', () => {
    expect(priceKeyOf({ name: 'Screws for the hinges' })).toBe('fitting:screws')
    expect(priceKeyOf({ name: 'Hinges' })).toBe('fitting:hinges')
    expect(priceKeyOf({ name: 'Handle' })).toBeNull()
  })
})
