import { failed, ok, problem, type Result } from '../problems.ts'
import type { Currency } from './currency.ts'

/**
 * An amount as makers type it, in whole minor units of the currency: `1,250`, `1250.50`, `.50`, `$85`, `85 EUR`, `1.250,50`, `-18.50`.
 *
 * Where both separators stand, the last one is the decimal one. A lone comma before three digits groups thousands (the program speaks
 * English), a lone dot never does: `12.345` in a currency of two decimals is refused, not taken for twelve thousand. An amount that names
 * another currency is refused, never taken over one to one.
 */
export function readMoney(text: string, currency: Currency): Result<number> {
  const other = otherCurrency(text, currency)
  if (other !== null) {
    return failed(
      problem(
        'currency',
        `This shop counts in ${currency.code}, not ${other}: write it like ${example(currency.decimals)}.`,
      ),
    )
  }
  const bare = text.replace(/[\s\u00a0\u202f']/g, '').replace(/\u2212/g, '-')
  const match = /^[^\d.,-]*(-?)[^\d.,-]*([\d.,]*\d)[^\d.,-]*$/.exec(bare)
  const [, sign = '', number = ''] = match ?? []
  const parts = match === null ? null : partsOf(number, currency.decimals)
  if (parts === null) {
    return failed(problem('money', `“${text}” is not an amount: write it like ${example(currency.decimals)}.`))
  }
  if (parts.fraction.length > currency.decimals) {
    return failed(
      problem(
        'money',
        `“${text}” has more decimals than ${currency.code} knows: write it like ${example(currency.decimals)}.`,
      ),
    )
  }
  const minor = Number((parts.whole || '0') + parts.fraction.padEnd(currency.decimals, '0'))
  if (!Number.isSafeInteger(minor)) {
    return failed(problem('money', `“${text}” is more than can be reckoned with.`))
  }
  return ok(sign === '-' && minor !== 0 ? -minor : minor)
}

/** A currency that is named beside the amount and is another one, by its code, sign or name; null: none. */
function otherCurrency(text: string, { code }: Currency): string | null {
  const words = text.match(/\p{L}+/gu) ?? []
  const named = words.find((word) => isCode(word.toUpperCase()) && word.toUpperCase() !== code)
  if (named !== undefined) return named.toUpperCase()
  const own = signOf(code)
  const said = [
    ...(text.match(/\p{Sc}/gu) ?? []),
    ...words.flatMap((word) => SIGN_OF_NAME.find(([name]) => name.test(word))?.[1] ?? []),
  ]
  return said.find((sign) => !own.includes(sign)) ?? null
}

const SIGN_OF_NAME: readonly (readonly [RegExp, string])[] = [
  [/^dollars?$/i, '$'],
  [/^euros?$/i, '€'],
  [/^pounds?$/i, '£'],
  [/^yen$/i, '¥'],
]

const isCode = (word: string): boolean => /^[A-Z]{3}$/.test(word) && CODES.has(word)

/** Every code that can be written at all; the decimals are never asked from here. */
const CODES: ReadonlySet<string> = new Set(Intl.supportedValuesOf('currency'))

/** Signs that the currency is written with, shared ones too: `$` for USD and CAD; none for one that has no sign. */
const signOf = (code: string): string =>
  new Intl.NumberFormat('en-US', { style: 'currency', currency: code, currencyDisplay: 'narrowSymbol' })
    .formatToParts(0)
    .flatMap(({ type, value }) => (type === 'currency' ? [value] : []))
    .join('')

/** An amount that cannot be less than nothing: a price, a deposit, what a board cost. */
export function readPrice(text: string, currency: Currency): Result<number> {
  const read = readMoney(text, currency)
  return read.ok && read.value < 0
    ? failed(
        problem(
          'money',
          `“${text}” is less than zero: write an amount like ${example(currency.decimals)}, or leave it blank.`,
        ),
      )
    : read
}

/** Digits before and after the decimal separator; null where the separators make no number. */
function partsOf(number: string, decimals: number): { readonly whole: string; readonly fraction: string } | null {
  const dots = number.split('.').length - 1
  const commas = number.split(',').length - 1
  const decimal = decimalSeparator(number, dots, commas, decimals)
  const at = decimal === '' ? number.length : number.lastIndexOf(decimal)
  const grouped = number.slice(0, at)
  const fraction = number.slice(at + 1)
  return /^(\d*|\d{1,3}(?:,\d{3})+|\d{1,3}(?:\.\d{3})+)$/.test(grouped) && /^\d*$/.test(fraction)
    ? { whole: grouped.replace(/[.,]/g, ''), fraction }
    : null
}

function decimalSeparator(number: string, dots: number, commas: number, decimals: number): '.' | ',' | '' {
  if (dots > 0 && commas > 0) return number.lastIndexOf('.') > number.lastIndexOf(',') ? '.' : ','
  if (dots === 1) return '.'
  if (commas === 1) return /,\d{3}$/.test(number) && decimals !== 3 && !number.startsWith(',') ? '' : ','
  return ''
}

/** Minor units as an amount with its currency, in the way of the locale. */
export const writeMoney = (minor: number, { code, decimals }: Currency, locale: string): string =>
  // What is taken from nothing may be -0, which would be written as such.
  formatter(code, decimals, locale).format(minor === 0 ? 0 : minor / 10 ** decimals)

const formatters = new Map<string, Intl.NumberFormat>()

/** Making a formatter costs a thousand times more than using one. */
function formatter(currency: string, decimals: number, locale: string): Intl.NumberFormat {
  const key = `${locale} ${currency} ${decimals}`
  const known = formatters.get(key)
  if (known !== undefined) return known
  const made = new Intl.NumberFormat(locale, {
    ...{ style: 'currency', currency },
    ...{ minimumFractionDigits: decimals, maximumFractionDigits: decimals },
  })
  formatters.set(key, made)
  return made
}

/** Minor units as they are typed, for a form field: `1250.50`. */
export const typeMoney = (minor: number, { decimals }: Currency): string =>
  minor % 10 ** decimals === 0 ? String(minor / 10 ** decimals) : plainMoney(minor, decimals)

/** Minor units with all decimals and nothing else, as open formats want them: `-18.50`. */
export function plainMoney(minor: number, decimals: number): string {
  const digits = String(Math.abs(minor)).padStart(decimals + 1, '0')
  const whole = digits.slice(0, digits.length - decimals)
  return `${minor < 0 ? '-' : ''}${whole}${decimals === 0 ? '' : `.${digits.slice(-decimals)}`}`
}

const example = (decimals: number): string => (decimals === 0 ? '1250' : `1250.${'50'.padEnd(decimals, '0')}`)
