import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readMoney, typeMoney, writeMoney } from '../../../core/money/money.ts'

describe('amounts', () => {
  it.each([
    ['85', 'USD', 8500],
    ['$85', 'USD', 8500],
    ['85.5', 'USD', 8550],
    ['1,250', 'USD', 125000],
    ['1,250.50', 'USD', 125050],
    ['1.250,50', 'EUR', 125050],
    ['85 EUR', 'EUR', 8500],
    ['4500', 'JPY', 4500],
  ])('reads %s in %s as whole minor units', (text, currency, minor) => {
    expect(readMoney(text, currency)).toEqual({ ok: true, value: minor })
  })

  it.each(['', 'free', '-5', '1.2.3', '12,34,5'])('says what would do instead of “%s”', (text) => {
    const read = readMoney(text, 'USD')
    expect(read.ok).toBe(false)
    if (!read.ok) expect(read.problems[0]?.message).toContain('1250.50')
  })

  it('refuses decimals that the currency does not have', () => {
    expect(readMoney('12.5', 'JPY').ok).toBe(false)
  })

  it('reads back what it types, for any amount and currency', () => {
    fc.assert(
      fc.property(fc.nat(), fc.constantFrom('USD', 'EUR', 'JPY', 'GBP'), (minor, currency) => {
        expect(readMoney(typeMoney(minor, currency), currency)).toEqual({ ok: true, value: minor })
      }),
    )
  })

  it('writes in the way of the locale', () => {
    expect(writeMoney(125050, 'USD', 'en-US')).toBe('$1,250.50')
  })
})
