import { decimalsOf } from '../../core/money/money.ts'

/** Writer of amounts for a narrow column: whole amounts without their zeros, `$185` and `$92.50`. */
export function shortMoney(currency: string, locale: string): (minor: number) => string {
  const format = new Intl.NumberFormat(locale, {
    style: 'currency',
    currency,
    currencyDisplay: 'narrowSymbol',
    trailingZeroDisplay: 'stripIfInteger',
  })
  const unit = 10 ** decimalsOf(currency)
  return (minor) => format.format(minor / unit)
}
