import type { Commission } from '../../core/book/book.ts'
import { standingEntries } from '../../core/money/ledger.ts'
import { creditOf } from '../../core/money/credit.ts'
import { sum } from '../../core/money/exact.ts'
import { writeMoney } from '../../core/money/money.ts'
import { taxInPayment, type Taxed } from '../../core/money/sales-tax.ts'
import { careTexts } from '../../core/papers/care.ts'
import { recipientOf } from '../../core/book/recipient.ts'
import { simplifiedUpTo } from '../../core/almanac/money-facts.ts'
import { isInvoice, PAPER_TITLES, type Paper, type PaperKind } from '../../core/papers/paper.ts'
import { paperWord } from '../../core/papers/paper-words.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { daysLater } from '../../core/time/local-day.ts'
import { writeLocalDayInFull } from '../../core/time/write-instant.ts'
import { billOf, moneyStandingOf } from '../money/order-money.ts'
import { careGroups } from './care-facts.ts'
import { delayOf } from './delay-note.ts'
import { estimateRange } from './estimate-range.ts'
import { linesOf, linesWithFinish, paidSums, sumsWithRange, totalsOf } from './paper-lines.ts'
import type { PaperSource } from './paper-source.ts'

/** What a paper is asked with. */
export interface PaperInput {
  readonly kind: PaperKind
  /** The maker's own words on it. */
  readonly text: string
  /** Of a note of delay: the new day; empty: not known yet. */
  readonly newDay: string
  /** Of a credit note: the invoice and what is taken off, before tax. */
  readonly amends: string
  readonly creditMinor: number
}

/** A paper with everything on it but its number. */
export function writePaper(source: PaperSource, input: PaperInput): Result<Paper> {
  const { commission, moment } = source
  const namesBuyer = input.kind !== 'simplified-invoice'
  if (namesBuyer && commission.customer.name.trim() === '')
    return failed(problem('no-name', 'Who is it for? Add the customer’s name to the order first.', 'kind'))
  const body = bodyOf(source, input)
  if (!body.ok) return body
  const { shop, money } = moment.almanac
  const ownWords = input.text.trim() === '' ? [] : [{ heading: '', text: input.text.trim() }]
  const { texts, facts, ...rest } = body.value
  const { name, address, isGift } = recipientOf(commission)
  // A care card is for who lives with the piece; the rest is for who ordered and pays.
  const toRecipient = isGift && input.kind === 'care-card'
  return ok({
    kind: input.kind,
    title: PAPER_TITLES[input.kind],
    day: moment.today,
    from: {
      name: shop.name,
      address: money.address,
      reach: money.reach,
      taxNumber: rest.sums.length > 0 ? money.taxNumber : '',
    },
    to: !namesBuyer
      ? { name: '', address: '' }
      : toRecipient
        ? { name, address }
        : { name: commission.customer.name, address: commission.customer.address },
    order: commission.number,
    currency: shop.currency,
    ...rest,
    facts:
      isGift && namesBuyer && !toRecipient
        ? [...facts, { label: 'Goes to', text: [name, address].filter((each) => each !== '').join(', ') }]
        : facts,
    texts: [...said(source, input.kind, 'opening'), ...ownWords, ...texts, ...said(source, input.kind, 'closing')],
  })
}

/** A text in the shop's words, or none. */
function said(source: PaperSource, kind: PaperKind, name: string, heading = ''): Paper['texts'] {
  const { commission, moment, entries } = source
  const { almanac, wording } = moment
  const amount = (minor: number): string => writeMoney(minor, almanac.shop.currency, wording.locale)
  const text = paperWord({ kind, name }, almanac.money.paperWords, {
    customer: commission.customer.name,
    order: String(commission.number),
    deposit: amount(commission.depositMinor),
    owed: amount(Math.max(0, moneyStandingOf(commission, entries, moment).owedMinor)),
  })
  return text === '' ? [] : [{ heading, text }]
}

type Body = Pick<Paper, 'facts' | 'lines' | 'sums' | 'texts' | 'signature' | 'amends' | 'bill'>

function bodyOf(source: PaperSource, input: PaperInput): Result<Body> {
  switch (input.kind) {
    case 'care-card':
      return ok({
        facts: [],
        lines: linesWithout(source),
        sums: [],
        texts: careTexts(careGroups(source.commission, source.moment), {
          child: source.commission.customer.childUnder3 === 'yes',
          celsius: source.moment.almanac.shop.units === 'millimetre',
        }),
      })
    case 'progress-note':
      return ok({ facts: datesOf(source), lines: linesWithout(source), sums: [], texts: progressTexts(source) })
    case 'delay-note':
      return delayNote(source, input)
    case 'credit-note':
      return creditNote(source, input)
    default:
      return moneyPaper(source, input.kind)
  }
}

const linesWithout = ({ commission, moment }: PaperSource): Paper['lines'] =>
  linesOf({ ...commission, priceMinor: null, extraLines: [] }, moment)

function datesOf({ commission, moment }: PaperSource): Paper['facts'] {
  const day = (of: string): string => writeLocalDayInFull(of, moment.wording.locale)
  return [
    ...(commission.promisedFor === null ? [] : [{ label: 'Promised', text: day(commission.promisedFor) }]),
    ...(commission.neededBy === null ? [] : [{ label: 'Needed by', text: day(commission.neededBy) }]),
  ]
}

function progressTexts({ commission, moment }: PaperSource): Paper['texts'] {
  const steps = moment.stepsOf(commission.id)
  const done = steps.filter(({ id }) => moment.progress(id).kind === 'done')
  const next = steps.find(({ id }) => moment.progress(id).kind !== 'done')
  const last = done.at(-1)
  return [
    {
      heading: '',
      text:
        last === undefined
          ? 'Work has not started yet.'
          : `${done.length} of ${steps.length} steps are done, last: ${last.name.toLowerCase()}.`,
    },
    { heading: '', text: next === undefined ? 'It is finished.' : `Next: ${next.name.toLowerCase()}.` },
  ]
}

/** Papers that say what is to be made. */
const AGREED_ON: ReadonlySet<string> = new Set(['quote', 'estimate', 'confirmation'])

function moneyPaper(
  source: PaperSource,
  kind: 'quote' | 'estimate' | 'confirmation' | 'receipt' | 'invoice' | 'simplified-invoice' | 'balance-note',
): Result<Body> {
  const { commission, moment, entries } = source
  const { money } = moment.almanac
  const bill = billOf(commission, moment.almanac)
  if (bill === null) return failed(problem('no-price', 'This order has no price yet: enter one first.', 'kind'))
  const { sums, texts } = totalsOf(bill, {
    untaxedWhy: commission.untaxedWhy,
    currency: moment.almanac.shop.currency,
    locale: moment.wording.locale,
  })
  // A new invoice says everything anew: what was credited on the one before counts no more.
  const counted = isInvoice(kind) ? entries.filter((entry) => entry.kind !== 'credit') : entries
  const standing = moneyStandingOf(commission, counted, moment)
  const inside = money.pricesIncludeTax && bill.taxMinor !== 0 ? [{ heading: '', text: 'Prices include tax.' }] : []
  const terms = money.terms === '' ? [] : [{ heading: 'Terms', text: money.terms }]
  const base = {
    facts: datesOf(source),
    lines: AGREED_ON.has(kind) ? linesWithFinish(commission, moment) : linesOf(commission, moment),
    sums,
    texts: [...inside, ...texts, ...terms],
  }
  switch (kind) {
    case 'quote':
    case 'estimate':
      return ok(offer(source, base, kind))
    case 'confirmation':
      return ok({
        ...base,
        sums: [...sums, ...paidSums(standing)],
        texts: [...depositText(source, kind), ...askedTexts(commission), ...base.texts],
        signature: 'Agreed',
      })
    case 'receipt':
      return receipt(source, base, bill)
    case 'invoice':
      return ok({ ...base, sums: [...sums, ...paidSums(standing)], bill })
    case 'simplified-invoice':
      return simplifiedInvoice(source, { ...base, facts: [] }, bill)
    case 'balance-note':
      return standing.owedMinor <= 0
        ? failed(problem('nothing-owed', 'Nothing is owed for this order.', 'kind'))
        : ok({ ...base, sums: [...sums, ...paidSums(standing)] })
  }
}

/** A price before the order: a quote has one, an estimate goes up to what it costs if the hours run long. */
function offer(source: PaperSource, base: Body, kind: 'quote' | 'estimate'): Body {
  const { moment } = source
  const goodUntil = daysLater(moment.today, moment.almanac.money.quoteGoodDays)
  const range = kind === 'estimate' ? estimateRange(source) : null
  const longer = range?.kind === 'range' ? range.longer : null
  return {
    ...base,
    facts: [...base.facts, { label: 'Good until', text: writeLocalDayInFull(goodUntil, moment.wording.locale) }],
    sums: longer === null ? base.sums : sumsWithRange(base.sums, longer),
    texts: [
      ...(longer === null ? [] : said(source, kind, 'range', 'Range')),
      ...depositText(source, kind),
      ...base.texts,
    ],
  }
}

/**
 * An invoice of a small sum, which need not name the buyer: day, seller, kind of goods and the tax on them.
 * @source Directive 2006/112/EC, Article 226b (and 220a, from memory)
 */
function simplifiedInvoice({ moment }: PaperSource, base: Body, bill: Taxed): Result<Body> {
  const { shop, money } = moment.almanac
  const most = simplifiedUpTo(money, shop.currency)
  if (most === null || bill.totalMinor <= most) return ok({ ...base, bill })
  const say = writeMoney(most, shop.currency, moment.wording.locale)
  return failed(problem('too-much', `That is more than ${say}: choose Invoice instead.`, 'kind'))
}

function receipt({ commission, moment, entries }: PaperSource, base: Body, bill: Taxed): Result<Body> {
  const last = standingEntries(entries).findLast(({ kind }) => kind === 'payment')
  if (last === undefined) return failed(problem('no-payment', 'Nothing was paid yet: enter the payment first.', 'kind'))
  const standing = moneyStandingOf(commission, entries, moment)
  const tax = taxInPayment(last.minor, bill)
  const say = (minor: number): string => writeMoney(minor, moment.almanac.shop.currency, moment.wording.locale)
  const inProportion = moment.almanac.money.taxFallsOn === 'every-payment' && tax !== 0
  return ok({
    ...base,
    facts: [
      { label: 'Received on', text: writeLocalDayInFull(last.day, moment.wording.locale) },
      { label: 'Paid by', text: `${last.how}${last.reference === '' ? '' : `, ${last.reference}`}` },
    ],
    sums: [
      ...base.sums.map((sum) => ({ ...sum, strong: false })),
      ...paidSums(standing, {
        label: last.day === moment.today ? 'Received today' : 'Received',
        minor: last.minor,
      }),
    ],
    texts: [...(inProportion ? [{ heading: '', text: `Tax in this payment: ${say(tax)}.` }] : []), ...base.texts],
  })
}

/** Asks for the deposit; once it is paid, "Paid" in the sums says it. */
const depositText = (source: PaperSource, kind: PaperKind): Paper['texts'] =>
  moneyStandingOf(source.commission, source.entries, source.moment).depositOpenMinor === 0
    ? []
    : said(source, kind, 'deposit', 'Deposit')

/** What the customer asked for apart from the pieces; the order's notes are the maker's own and stand on no paper. */
const askedTexts = ({ customer }: Commission): Paper['texts'] => [
  ...(customer.allergies === '' ? [] : [{ heading: 'Allergies', text: customer.allergies }]),
  ...(customer.childUnder3 === 'yes' ? [{ heading: '', text: 'For a child under 3.' }] : []),
]

function delayNote(source: PaperSource, { newDay }: PaperInput): Result<Body> {
  const delay = delayOf(source, newDay)
  if (!delay.ok) return delay
  const { facts, choice } = delay.value
  return ok({
    facts,
    lines: linesWithout(source),
    sums: [],
    texts: said(source, 'delay-note', choice, 'Your choice'),
  })
}

function creditNote({ commission, moment, issued }: PaperSource, { amends, creditMinor }: PaperInput): Result<Body> {
  const invoice = issued.find(({ id, paper }) => id === amends && isInvoice(paper.kind))
  if (invoice?.paper.bill === undefined)
    return failed(problem('no-invoice', 'Choose the invoice that this credit note puts right.', 'amends'))
  if (creditMinor <= 0) return failed(problem('amount', 'Enter what is taken off, like 37.50.', 'credit'))
  const { currency, lines } = invoice.paper
  if (currency.code !== moment.almanac.shop.currency.code)
    return failed(problem('currency', `This invoice is in ${currency.code}: credit it in that currency.`, 'credit'))
  const credited = issued.flatMap(({ amends: of, paper }) => (of === amends ? (paper.bill ?? []) : []))
  const saidMinor = sum(lines.map(({ minor }) => minor ?? 0))
  const bill = creditOf(creditMinor, { bill: invoice.paper.bill, saidMinor, credited })
  const left = invoice.paper.bill.totalMinor - sum(credited.map(({ totalMinor }) => totalMinor))
  if (bill.totalMinor > left) {
    const say = writeMoney(Math.max(0, left), currency, moment.wording.locale)
    return failed(problem('too-much', `With tax that is more than ${say}, what is left of the invoice.`, 'credit'))
  }
  const { sums, texts } = totalsOf(bill, {
    untaxedWhy: bill.taxMinor === 0 ? commission.untaxedWhy : '',
    currency,
    locale: moment.wording.locale,
  })
  return ok({
    facts: [
      {
        label: 'For invoice',
        text: `${invoice.paper.kind === 'invoice' ? '' : 'simplified, '}no. ${invoice.number} of ${writeLocalDayInFull(invoice.paper.day, moment.wording.locale)}`,
      },
    ],
    lines: [{ text: 'Credited', minor: creditMinor }],
    sums,
    texts,
    amends: { kind: invoice.paper.kind, number: invoice.number },
    bill,
  })
}
