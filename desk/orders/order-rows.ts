import type { Commission } from '../../core/book/book.ts'
import { countedTitle } from '../../core/book/counted-title.ts'
import { moneyStandingOf } from '../money/order-money.ts'
import { moneyColumns, type MoneyByOrder, type MoneyColumns } from '../money/order-rows-money.ts'
import type { Moment } from '../moment.ts'
import { outlookOf, type Outlook } from '../screens/outlook.ts'
import { wordOf, type CommissionWord } from './commission-word.ts'
import { listsOf, type OrderList } from './order-lists.ts'
import { namesInSpecs, orderText, type FoundPiece } from './order-text.ts'

export interface OrderRow extends MoneyColumns {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  /** How to reach them, as told. */
  readonly reach: string
  readonly titles: readonly string[]
  readonly standing: CommissionWord
  /** Why it is on hold; empty where it is not, or nobody said. */
  readonly holdWhy: string
  readonly neededBy: string | null
  readonly promisedFor: string | null
  /** By the plan, if all goes as planned. */
  readonly doneAt: number | null
  /** Minutes past the promise by the plan. */
  readonly lateMinutes: number
  readonly outlook: Outlook
  readonly stepsDone: number
  readonly stepsTotal: number
  readonly nextStep: string | null
  readonly lists: readonly OrderList[]
  /** Everything that was typed about it, for finding. */
  readonly text: string
}

/** The columns that tell of the work on an order, and when it is done by the plan. */
export type WorkColumns = Pick<OrderRow, 'doneAt' | 'lateMinutes' | 'stepsDone' | 'stepsTotal' | 'nextStep'>

export interface ListedOrder extends Pick<OrderRow, 'text'> {
  readonly commission: Commission
  readonly pieces: readonly FoundPiece[]
  readonly work: WorkColumns
}

/** The texts of orders of one list: names of woods and finishes are looked up once for all. */
export function orderTexts({ almanac, wording: { locale } }: Moment) {
  const names = namesInSpecs(almanac)
  return (commission: Commission, pieces: readonly FoundPiece[]): string =>
    orderText(commission, pieces, { almanac, names, locale })
}

/**
 * Orders as the rows of the Order book, open and closed alike.
 * @param workKnown the moment that knows what was worked on an order, where that is another
 */
export function orderRows(
  orders: readonly ListedOrder[],
  money: MoneyByOrder,
  moment: Moment,
  workKnown: (commission: Commission) => Moment = () => moment,
): OrderRow[] {
  return orders.map(({ commission, pieces, work, text }) => {
    const standing = moneyStandingOf(commission, money.get(commission.id) ?? [], workKnown(commission))
    const word = wordOf(commission, moment)
    return {
      commissionId: commission.id,
      number: commission.number,
      customer: commission.customer.name,
      reach: commission.customer.reach,
      titles: pieces.map(countedTitle),
      standing: word,
      holdWhy: word === 'on-hold' ? commission.onHoldWhy : '',
      neededBy: commission.neededBy,
      promisedFor: commission.promisedFor,
      ...work,
      outlook: outlookOf(commission, moment),
      ...moneyColumns(standing),
      lists: listsOf(commission, standing, moment),
      text,
    }
  })
}
