import type { Currency } from '../../core/money/currency.ts'

/** Writer of amounts for a narrow column: whole amounts without their zeros, `$185` and `$92.50`. */
export function shortMoney({ code, decimals }: Currency, locale: string): (minor: number) => string {
  const format = new Intl.NumberFormat(locale, {
    style: 'currency',
    currency: code,
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
    currencyDisplay: 'narrowSymbol',
    trailingZeroDisplay: 'stripIfInteger',
  })
  const unit = 10 ** decimals
  return (minor) => format.format(minor / unit)
}
