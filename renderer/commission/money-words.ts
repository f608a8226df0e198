import type { MoneyState, PaidHow } from '../../core/money/ledger.ts'

export const HOW_WORDS: Readonly<Record<PaidHow, string>> = {
  cash: 'Cash',
  check: 'Check',
  card: 'Card',
  transfer: 'Transfer',
  other: 'Other',
}

/** Where an order's money stands, said in one line; null where there is nothing to say. */
export function stateWords(state: MoneyState, amount: (which: 'owed' | 'deposit') => string): string | null {
  switch (state) {
    case 'not-priced':
      return 'No price yet'
    case 'asked':
      return null
    case 'deposit-due':
      return `Deposit due: ${amount('deposit')}`
    case 'in-order':
      return `Still owed: ${amount('owed')}`
    case 'balance-due':
      return `Balance due: ${amount('owed')}`
    case 'paid':
      return 'Paid in full'
    case 'to-give-back':
      return `Refund due: ${amount('owed')}`
    case 'settled':
      return 'Settled'
  }
}
