import type { MoneyKind } from './ledger.ts'

/** What happened to money, as a maker says it. */
export const MONEY_WORDS: Readonly<Record<MoneyKind, string>> = {
  payment: 'Received',
  refund: 'Given back',
  'write-off': 'Written off',
  tip: 'Tip',
  'cash-rounding': 'Cash rounding',
  credit: 'Credit note',
}
