/** A currency and its number of decimals: 2 for USD, 0 for JPY, 3 for KWD. */
export interface Currency {
  /** ISO 4217 alphabetic code. */
  readonly code: string
  readonly decimals: number
}

/**
 * Decimals of the currencies that do not have two.
 *
 * Not asked from the system, because engines disagree: their data round HUF, IDR, COP or IQD to what people pay in cash.
 * @source ISO 4217:2015, list one (current currencies), column "minor units"; from memory, compared in the tests with the list that
 *   the package `currency-codes` carries (published 2024-06-25)
 */
const DECIMALS: Readonly<Record<string, number>> = {
  ...Object.fromEntries(
    'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF'.split(' ').map((code) => [code, 0]),
  ),
  ...Object.fromEntries('BHD IQD JOD KWD LYD OMR TND'.split(' ').map((code) => [code, 3])),
  CLF: 4,
  UYW: 4,
}

/** The currency with the decimals of ISO 4217; 2 for a code that is not in its list. */
export const isoCurrency = (code: string): Currency => ({ code, decimals: DECIMALS[code] ?? 2 })
