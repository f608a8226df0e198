import type { Commission } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import type { MoneyStanding } from '../../core/money/ledger.ts'
import type { Currency } from '../../core/money/currency.ts'
import { writeMoney } from '../../core/money/money.ts'
import { writeRate } from '../../core/money/rate.ts'
import type { Taxed } from '../../core/money/sales-tax.ts'
import type { Paper } from '../../core/papers/paper.ts'
import { finishesOn } from '../finishes-on.ts'
import type { Moment } from '../moment.ts'

/** What was made, with the price where one line carries it, and the extras. */
export function linesOf(commission: Commission, moment: Moment): Paper['lines'] {
  const pieces = moment.book.pieces.filter(({ commissionId }) => commissionId === commission.id)
  const alone = pieces.length === 1
  return [
    ...pieces.map((piece) => ({ text: countedTitle(piece), minor: alone ? commission.priceMinor : null })),
    ...(alone || commission.priceMinor === null ? [] : [{ text: 'Price for all', minor: commission.priceMinor }]),
    ...commission.extraLines.map(({ name, minor }) => ({ text: name, minor })),
  ]
}

/** The same where it is agreed on: each piece with what it is finished with, as that is seen and asked about. */
export function linesWithFinish(commission: Commission, moment: Moment): Paper['lines'] {
  const pieces = moment.book.pieces.filter(({ commissionId }) => commissionId === commission.id)
  return linesOf(commission, moment).map((line, at) => {
    const piece = pieces[at]
    const steps = moment.stepsOf(commission.id).filter(({ pieceId, lost }) => pieceId === piece?.id && lost !== true)
    const finishes = finishesOn(
      steps,
      steps.flatMap(({ id }) => moment.lagsFrom(id)),
      moment,
    )
    return finishes.length === 0 ? line : { ...line, text: `${line.text}, finish: ${finishes.join(' and ')}` }
  })
}

/**
 * Tax and total under the lines; nothing but the total where no tax falls on it. Where a tax falls on some lines alone, on how much.
 * @source Directive 2006/112/EC, Article 226(8) to (10): taxable amount by rate, rate, tax; from memory
 */
export function totalsOf(
  bill: Taxed,
  {
    untaxedWhy,
    currency,
    locale,
  }: { readonly untaxedWhy: string; readonly currency: Currency; readonly locale: string },
): { readonly sums: Paper['sums']; readonly texts: Paper['texts'] } {
  const { netMinor, totalMinor } = bill
  const taxes = bill.taxes.filter(({ baseMinor }) => baseMinor !== 0)
  return {
    sums: [
      ...(taxes.length === 0 ? [] : [{ label: 'Without tax', minor: netMinor, strong: false }]),
      ...taxes.map(({ name, rate, baseMinor, minor }) => ({
        label: `${name || 'Tax'} ${writeRate(rate)}${baseMinor === netMinor ? '' : ` on ${writeMoney(baseMinor, currency, locale)}`}`,
        minor,
        strong: false,
      })),
      { label: 'Total', minor: totalMinor, strong: true },
    ],
    texts: untaxedWhy === '' ? [] : [{ heading: '', text: `No tax: ${untaxedWhy}` }],
  }
}

/** Lines of a total that go up to another one, should the hours run long. */
export const sumsWithRange = (sums: Paper['sums'], longer: Taxed): Paper['sums'] => [
  ...sums.map((each) => (each.strong ? { ...each, label: 'Total as planned' } : each)),
  { label: 'Total if it runs long', minor: longer.totalMinor, strong: true },
]

/**
 * What was paid and what is owed.
 * @param received the payment that a receipt is about: it comes first, and where nothing else was paid it is not said twice
 */
export const paidSums = (
  { paidMinor, creditedMinor, writtenOffMinor, owedMinor }: MoneyStanding,
  received: Omit<Paper['sums'][number], 'strong'> | null = null,
): Paper['sums'] => [
  ...(received === null ? [] : [{ ...received, strong: true }]),
  ...(creditedMinor === 0 ? [] : [{ label: 'Credited', minor: creditedMinor, strong: false }]),
  ...(received?.minor === paidMinor
    ? []
    : [{ label: received === null ? 'Paid' : 'Paid so far', minor: paidMinor, strong: false }]),
  ...(writtenOffMinor === 0 ? [] : [{ label: 'Rounding and write-off', minor: writtenOffMinor, strong: false }]),
  { label: owedMinor < 0 ? 'Refund due' : 'Owed', minor: Math.abs(owedMinor), strong: true },
]
