import { sum } from './exact.ts'
import { shareOf } from './rate.ts'
import { taxed, type Taxed } from './sales-tax.ts'

/** An invoice as a credit note looks at it. */
export interface Invoiced {
  readonly bill: Taxed
  /** What its lines say together: with the tax in them, the total. */
  readonly saidMinor: number
  /** Bills of earlier credit notes on it. */
  readonly credited: readonly Taxed[]
}

/**
 * What a credit takes off an invoice, by the rates that stand on it, whatever they are today. Of an invoice with untaxed lines the taxed
 * ones are credited first, so that no tax is kept on what was taken back.
 * @param creditMinor said as the lines of the invoice are, with or without tax
 * @source a credit note corrects the supply as it was taxed: Directive 2006/112/EC, Article 219 (and 90, from memory)
 */
export function creditOf(creditMinor: number, { bill, saidMinor, credited }: Invoiced): Taxed {
  const taxes = bill.taxes.filter(({ baseMinor }) => baseMinor > 0)
  const included = bill.taxMinor > 0 && saidMinor === bill.totalMinor
  const baseMinor = Math.max(0, ...taxes.map((tax) => tax.baseMinor))
  const gone = sum(credited.map(({ taxes: [first] }) => first?.baseMinor ?? 0))
  // Where prices have the tax in them, what is left of the base is said with it.
  const left = baseMinor - gone
  const leftSaid = included ? left + sum(taxes.map(({ rate }) => shareOf(left, rate))) : left
  const taxedMinor = Math.max(0, Math.min(creditMinor, leftSaid))
  return taxed(
    [
      { minor: taxedMinor, taxed: true },
      { minor: creditMinor - taxedMinor, taxed: false },
    ],
    { taxes, included, roundedBy: 'paper' },
  )
}
