import fc from 'fast-check'
import { code as iso, codes } from 'currency-codes'
import { describe, expect, it } from 'vitest'
import { isoCurrency } from '../../../core/money/currency.ts'
import { plainMoney, readMoney, readPrice, typeMoney, writeMoney } from '../../../core/money/money.ts'

const read = (text: string, currency: string) => readMoney(text, isoCurrency(currency))

describe('amounts', () => {
  it.each([
    ['85', 'USD', 8500],
    ['$85', 'USD', 8500],
    ['85.5', 'USD', 8550],
    ['.50', 'USD', 50],
    [',5', 'EUR', 50],
    ['1,250', 'USD', 125000],
    ['1,250.50', 'USD', 125050],
    ['1.250,50', 'EUR', 125050],
    ['1.250.000', 'EUR', 125000000],
    ['1 250,50', 'EUR', 125050],
    ["1'250.50", 'CHF', 125050],
    ['85 EUR', 'EUR', 8500],
    ['4500', 'JPY', 4500],
    ['12500', 'JPY', 12500],
    ['1.250', 'KWD', 1250],
    ['1,250', 'KWD', 1250],
    ['1,250.500', 'KWD', 1250500],
    ['-18.50', 'USD', -1850],
    ['$-18.50', 'USD', -1850],
    ['-$18.50', 'USD', -1850],
  ])('reads %s in %s as whole minor units', (text, currency, minor) => {
    expect(read(text, currency)).toEqual({ ok: true, value: minor })
  })

  it.each(['', 'free', '1.2.3', '12,34,5', '1,2345', '--5', '1..5', '5-'])(
    'says what would do instead of “%s”',
    (text) => {
      expect(read(text, 'USD')).toMatchObject({
        ok: false,
        problems: [{ message: expect.stringContaining('1250.50') as string }],
      })
    },
  )

  it.each([
    ['12.5', 'JPY', '1250.'],
    ['12.345', 'EUR', '1250.50'],
    ['1.250', 'JPY', '1250.'],
    ['0.1234', 'KWD', '1250.500'],
  ])('refuses %s, which has decimals that %s does not have', (text, currency, example) => {
    expect(read(text, currency)).toMatchObject({
      ok: false,
      problems: [{ message: expect.stringContaining(example) as string }],
    })
  })

  it.each([
    ['85 EUR', 'USD', 'EUR'],
    ['85 eur', 'USD', 'EUR'],
    ['€85', 'USD', '€'],
    ['85 euros', 'USD', '€'],
    ['$85', 'EUR', '$'],
    ['85 USD', 'CAD', 'USD'],
    ['£40', 'CHF', '£'],
  ])('refuses %s in a shop that counts in %s', (text, currency, named) => {
    const message = expect.stringContaining(`counts in ${currency}, not ${named}:`) as string
    expect(read(text, currency)).toMatchObject({ ok: false, problems: [{ code: 'currency', message }] })
  })

  it.each([
    ['$85', 'CAD'],
    ['85 dollars', 'USD'],
    ['CHF 85', 'CHF'],
    ['85 usd', 'USD'],
    ['¥85.00', 'CNY'],
  ])('takes %s in %s, which is written so', (text, currency) => {
    expect(read(text, currency)).toEqual({ ok: true, value: 8500 })
  })

  it('takes no price below zero', () => {
    expect(readPrice('-5', isoCurrency('USD')).ok).toBe(false)
    expect(readPrice('0', isoCurrency('USD'))).toEqual({ ok: true, value: 0 })
  })

  it('reads back what it types, for any amount and currency', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.constantFrom('USD', 'EUR', 'JPY', 'GBP', 'KWD', 'HUF'),
        (minor, code) => {
          const currency = isoCurrency(code)
          expect(readMoney(typeMoney(minor, currency), currency)).toEqual({ ok: true, value: minor })
          expect(readMoney(plainMoney(minor, currency.decimals), currency)).toEqual({ ok: true, value: minor })
        },
      ),
    )
  })

  it('never throws, and never answers with anything but a whole number', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[-\d.,$ ']{0,14}$/), fc.constantFrom('USD', 'JPY', 'KWD'), (text, code) => {
        const answer = readMoney(text, isoCurrency(code))
        expect(!answer.ok || Number.isSafeInteger(answer.value)).toBe(true)
      }),
    )
  })

  it('writes in the way of the locale, with the decimals of the currency', () => {
    expect(writeMoney(125050, isoCurrency('USD'), 'en-US')).toBe('$1,250.50')
    expect(writeMoney(125050, isoCurrency('HUF'), 'en-US')).toBe('HUF\u00a01,250.50')
    expect(plainMoney(-1850, 2)).toBe('-18.50')
    expect(writeMoney(-0, isoCurrency('USD'), 'en-US')).toBe('$0.00')
  })
})

describe('currencies', () => {
  // ISO 4217, list one, as the package `currency-codes` carries it (2024-06-25).
  it.each(codes().filter((each) => !/^X[A-Z]{2}$/.test(each) || ['XAF', 'XOF', 'XPF', 'XCD'].includes(each)))(
    'has the decimals of %s from ISO 4217',
    (each) => {
      expect(isoCurrency(each).decimals).toBe(iso(each)?.digits)
    },
  )
})
