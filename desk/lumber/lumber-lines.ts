import type { Commission } from '../../core/book/book.ts'
import type { Moment } from '../moment.ts'

/** The wood of an order that cannot be cut yet. */
export interface LumberLine {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  /** "Lumber: Sat, Dec 5, then 7 days to rest". */
  readonly text: string
  /** Names of woods that the boards on hand do not give, with why where there are some. */
  readonly missing: readonly string[]
  readonly state: 'coming' | 'resting' | 'unknown'
  /** Local day. */
  readonly expectedOn: string | null
  /** The day has come, or nobody knows one. */
  readonly due: boolean
}

/** The wood of an order, as screens show it; null where all of it may be cut. */
export function lumberLine(commission: Commission, { lumber, today }: Moment): LumberLine | null {
  const own = lumber.ofOrder(commission.id)
  if (own === null || own.text === null || own.ahead.kind === 'ready') return null
  const { ahead, missing, text } = own
  return {
    commissionId: commission.id,
    number: commission.number,
    customer: commission.customer.name,
    text,
    missing,
    state: ahead.kind,
    expectedOn: ahead.kind === 'coming' ? ahead.on : null,
    due: ahead.kind === 'unknown' || (ahead.kind === 'coming' && ahead.on <= today),
  }
}

/** Whether an order's wood is looked for among the boards on hand. */
export const countsBoards = ({ almanac: { countLumber }, stock }: Pick<Moment, 'almanac' | 'stock'>): boolean =>
  countLumber === 'always' || (countLumber === 'when-listed' && stock.everListed)

/** Of every order whose wood is not there or still rests, what is due first. */
export const lumberLines = (moment: Moment): LumberLine[] =>
  moment.book.commissions
    .flatMap((commission) => lumberLine(commission, moment) ?? [])
    .toSorted((a, b) => (a.expectedOn ?? '').localeCompare(b.expectedOn ?? '') || a.number - b.number)
