import { failed, ok, problem, type Result } from '../problems.ts'

/**
 * An amount as makers type it, in whole minor units of the currency: `1,250`, `1250.50`, `$85`, `85 EUR`, `1.250,50`.
 * The last separator followed by as many digits as the currency has decides the decimals; others only group thousands.
 * @param currency ISO 4217 code; its number of decimals is the one of the CLDR data that Intl carries
 */
export function readMoney(text: string, currency: string): Result<number> {
  const digits = decimalsOf(currency)
  const bare = text.replace(/[\s\u00a0]/g, '').replace(/^[^\d.,-]+|[^\d.,]+$/g, '')
  const match = /^(\d{1,3}(?:[.,']\d{3})+|\d+)(?:[.,](\d{1,2}))?$/.exec(bare)
  const whole = match?.[1]
  if (whole === undefined) {
    return failed(problem('money', `“${text}” is not an amount: write it like ${example(digits)}, not less than zero.`))
  }
  const fraction = match?.[2] ?? ''
  if (fraction.length > digits) {
    return failed(
      problem('money', `“${text}” has more decimals than ${currency} knows: write it like ${example(digits)}.`),
    )
  }
  const minor = Number(whole.replace(/[.,']/g, '')) * 10 ** digits + Number(fraction.padEnd(digits, '0') || '0')
  return Number.isSafeInteger(minor)
    ? ok(minor)
    : failed(problem('money', `“${text}” is more than can be reckoned with.`))
}

/** Minor units as an amount with its currency, in the way of the locale. */
export const writeMoney = (minor: number, currency: string, locale: string): string =>
  new Intl.NumberFormat(locale, { style: 'currency', currency }).format(minor / 10 ** decimalsOf(currency))

/** Minor units as they are typed, for a form field: `1250.50`. */
export const typeMoney = (minor: number, currency: string): string => {
  const digits = decimalsOf(currency)
  return minor % 10 ** digits === 0 ? String(minor / 10 ** digits) : (minor / 10 ** digits).toFixed(digits)
}

/** Decimals of a currency; 2 for a code that Intl does not know. */
export function decimalsOf(currency: string): number {
  try {
    return new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2
  } catch {
    return 2
  }
}

const example = (digits: number): string => (digits === 0 ? '1250' : '1250.50')
