import { sum } from './exact.ts'

/** One entry in an order's money: never changed, taken back by a counter-entry. */
export interface MoneyEntry {
  readonly id: string
  readonly commissionId: string
  /** Instant in milliseconds since the Unix epoch at which it was written down. */
  readonly atMs: number
  /** Local civil day on which the money changed hands. */
  readonly day: string
  readonly kind: MoneyKind
  /** Minor units, more than nothing; the kind says the direction. */
  readonly minor: number
  readonly how: PaidHow
  /** Number of a check, a card slip, a transfer; who paid. */
  readonly reference: string
  /** The entry that this one takes back. */
  readonly takesBack: string | null
}

/** `tip` is received and owed to nobody; `write-off` is given up; `cash-rounding` is what the smallest coin leaves over. */
export type EnteredKind = 'payment' | 'refund' | 'write-off' | 'tip' | 'cash-rounding'

/** `credit`: a credit note took it off the bill. It is issued as a paper and never entered. */
export type MoneyKind = EnteredKind | 'credit'

export type PaidHow = 'cash' | 'check' | 'card' | 'transfer' | 'other'

/** An entry that somebody wrote down, unlike one that follows from a paper. */
export interface EnteredMoney extends MoneyEntry {
  readonly kind: EnteredKind
}

/** How somebody paid as it was typed: one of the ways by its word, else 'other' with what was typed. */
export function paidHow(text: string): Pick<MoneyEntry, 'how' | 'reference'> {
  const typed = text.trim()
  const how = PAID_HOW.find((word) => new RegExp(`^(by |in )?${word}s?$`, 'i').test(typed))
  return how === undefined ? { how: 'other', reference: typed } : { how, reference: '' }
}

export const PAID_HOW = ['cash', 'check', 'card', 'transfer', 'other'] as const satisfies readonly PaidHow[]

/** What is derived of an order's money; nothing of it is ever typed or stored. */
export interface MoneyStanding {
  /** Null: no price yet. */
  readonly totalMinor: number | null
  /** Received for it less what was given back; tips are not among it. */
  readonly paidMinor: number
  readonly tipsMinor: number
  readonly writtenOffMinor: number
  /** Taken off the bill by credit notes, tax included. */
  readonly creditedMinor: number
  /** Total less paid, credited and written off; below zero: to give back. 0 without a price. */
  readonly owedMinor: number
  readonly depositOpenMinor: number
  readonly state: MoneyState
}

export type MoneyState =
  'not-priced' | 'asked' | 'deposit-due' | 'in-order' | 'balance-due' | 'paid' | 'to-give-back' | 'settled'

export interface MoneyTerms {
  /** With tax, as agreed; null: no price yet. */
  readonly totalMinor: number | null
  readonly depositAskedMinor: number
  readonly stage: 'inquiry' | 'agreed' | 'ready' | 'handed-over' | 'called-off'
  /** What may be kept of an order that was called off; ignored otherwise. */
  readonly keptMinor: number
}

/** Entries that still count: neither taken back nor taking back. */
export function standingEntries<Entry extends Pick<MoneyEntry, 'id' | 'takesBack'>>(
  entries: readonly Entry[],
): readonly Entry[] {
  const gone = new Set(entries.flatMap(({ takesBack }) => (takesBack === null ? [] : [takesBack])))
  return entries.filter(({ id, takesBack }) => takesBack === null && !gone.has(id))
}

const sumOf = (counted: readonly MoneyEntry[], kind: MoneyKind): number =>
  sum(counted.flatMap((entry) => (entry.kind === kind ? [entry.minor] : [])))

/** What was received for an order less what was given back; tips are not among it. */
export function paidIn(entries: readonly MoneyEntry[]): number {
  const counted = standingEntries(entries)
  return sumOf(counted, 'payment') - sumOf(counted, 'refund')
}

/** Where an order's money stands, from what was agreed and what changed hands. */
export function moneyStanding(terms: MoneyTerms, entries: readonly MoneyEntry[]): MoneyStanding {
  const counted = standingEntries(entries)
  const of = (kind: MoneyKind): number => sumOf(counted, kind)
  const paidMinor = paidIn(entries)
  const writtenOffMinor = of('write-off') + of('cash-rounding')
  const creditedMinor = of('credit')
  const due =
    terms.stage === 'called-off' ? Math.min(terms.keptMinor, paidMinor) : (terms.totalMinor ?? 0) - creditedMinor
  const owedMinor = terms.stage === 'called-off' || terms.totalMinor !== null ? due - paidMinor - writtenOffMinor : 0
  const depositOpenMinor = Math.max(0, terms.depositAskedMinor - paidMinor)
  return {
    totalMinor: terms.totalMinor,
    paidMinor,
    tipsMinor: of('tip'),
    writtenOffMinor,
    creditedMinor,
    owedMinor,
    depositOpenMinor,
    state: stateOf(terms, owedMinor, depositOpenMinor, paidMinor),
  }
}

function stateOf(terms: MoneyTerms, owedMinor: number, depositOpenMinor: number, paidMinor: number): MoneyState {
  if (terms.stage === 'called-off') return paidMinor > terms.keptMinor ? 'to-give-back' : 'settled'
  if (terms.totalMinor === null) return 'not-priced'
  if (owedMinor < 0) return 'to-give-back'
  if (terms.stage === 'inquiry') return 'asked'
  if (owedMinor === 0) return 'paid'
  if (terms.stage !== 'agreed') return 'balance-due'
  return depositOpenMinor > 0 ? 'deposit-due' : 'in-order'
}
