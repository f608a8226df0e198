import type { Taxed } from '../money/sales-tax.ts'

/** Papers that a shop hands out, each numbered in a series of its own. */
export type PaperKind =
  | 'quote'
  | 'estimate'
  | 'confirmation'
  | 'receipt'
  | 'invoice'
  | 'simplified-invoice'
  | 'credit-note'
  | 'balance-note'
  | 'delay-note'
  | 'progress-note'
  | 'care-card'

/**
 * A paper as it was handed out: words and amounts, nothing to look up. It is stored whole when it is issued and never changes, whatever
 * becomes of the order, the almanac or the program.
 */
export interface Paper {
  readonly kind: PaperKind
  readonly title: string
  /** Local civil day of issue. */
  readonly day: string
  readonly from: { readonly name: string; readonly address: string; readonly reach: string; readonly taxNumber: string }
  readonly to: { readonly name: string; readonly address: string }
  readonly order: number
  /** Facts in a row under the head: "Good until", "Promised". */
  readonly facts: readonly { readonly label: string; readonly text: string }[]
  /** What was made or done, with its amount; null: no amount of its own. */
  readonly lines: readonly { readonly text: string; readonly minor: number | null }[]
  readonly sums: readonly { readonly label: string; readonly minor: number; readonly strong: boolean }[]
  readonly currency: { readonly code: string; readonly decimals: number }
  /** Texts under it, each with or without a heading. */
  readonly texts: readonly { readonly heading: string; readonly text: string }[]
  /** A line to sign on; absent: none. */
  readonly signature?: string
  /** Of an invoice and a credit note: its amounts as figures, so that a year can be added up by them. */
  readonly bill?: Taxed
  /** Kind and number of the paper that this one amends. */
  readonly amends?: { readonly kind: PaperKind; readonly number: number }
}

export const PAPER_TITLES: Readonly<Record<PaperKind, string>> = {
  quote: 'Quote',
  estimate: 'Estimate',
  confirmation: 'Order confirmation',
  receipt: 'Receipt',
  invoice: 'Invoice',
  'simplified-invoice': 'Simplified invoice',
  'credit-note': 'Credit note',
  'balance-note': 'Balance due',
  'delay-note': 'Change of date',
  'progress-note': 'How your order is coming along',
  'care-card': 'Care card',
}

/** Papers that a bill, its tax and a credit note go by. */
export const isInvoice = (kind: PaperKind): boolean => kind === 'invoice' || kind === 'simplified-invoice'
