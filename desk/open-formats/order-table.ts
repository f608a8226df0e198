import { countedTitle } from '../../core/book/counted-title.ts'
import { standingEntries } from '../../core/money/ledger.ts'
import { localDay } from '../../core/time/local-day.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import { moneyOf } from '../../db/money.ts'
import { standingDays } from '../../db/standing-days.ts'
import { billOf, moneyStandingOf } from '../money/order-money.ts'
import { momentsOf } from '../money/work-of-canceled.ts'
import type { OpenShop } from '../open-shop.ts'
import type { CsvTable } from './write-csv.ts'

/** Every order, newest first, with its money. */
export async function orderTable(shop: OpenShop): Promise<CsvTable> {
  const { currency, timeZone } = shop.almanac.shop
  const money = Map.groupBy(await moneyOf(shop.db), ({ commissionId }) => commissionId)
  const days = await standingDays(shop.db)
  const orders = await orderBookRows(shop.db)
  const momentFor = await momentsOf(
    shop,
    orders.map(({ commission }) => commission),
    money,
  )
  const dayOf = (ms: number | null | undefined): string | null => (ms == null ? null : localDay(ms / 60_000, timeZone))
  return {
    columns: [
      ...['order', 'standing', 'taken_on', 'taken_where', 'customer', 'reach', 'address', 'pieces'],
      ...['needed_by', 'promised_for', 'handed_over_on', 'called_off_on'],
      ...['price', 'tax', 'total', 'paid', 'owed', 'currency', 'money', 'notes'],
    ],
    rows: orders.map(({ commission, pieces }) => {
      const bill = billOf(commission, shop.almanac)
      const standing = moneyStandingOf(commission, money.get(commission.id) ?? [], momentFor(commission))
      const { customer } = commission
      return [
        commission.number,
        commission.standing,
        dayOf(commission.takenAtMin * 60_000),
        commission.takenWhere,
        customer.name,
        customer.reach,
        customer.address,
        pieces.map(countedTitle).join('; '),
        commission.neededBy,
        commission.promisedFor,
        commission.standing === 'handed-over' ? dayOf(days.get(commission.id)?.handedOverAtMs) : null,
        commission.standing === 'called-off' ? dayOf(days.get(commission.id)?.calledOffAtMs) : null,
        bill === null ? null : BigInt(bill.netMinor),
        bill === null ? null : BigInt(bill.taxMinor),
        bill === null ? null : BigInt(bill.totalMinor),
        BigInt(standing.paidMinor),
        BigInt(standing.owedMinor),
        currency.code,
        standing.state,
        commission.notes,
      ]
    }),
  }
}

/** Every entry of money as it was written down, oldest first; what was given back or up is less than nothing. */
export async function moneyTable(shop: OpenShop): Promise<CsvTable> {
  const entries = await moneyOf(shop.db)
  const counted = new Set(standingEntries(entries).map(({ id }) => id))
  const orders = new Map((await orderBookRows(shop.db)).map(({ commission }) => [commission.id, commission]))
  return {
    columns: [
      'day',
      'order',
      'customer',
      'kind',
      'amount',
      'currency',
      'how',
      'reference',
      'counts',
      'written_down_at',
    ],
    rows: entries.map((entry) => {
      const order = orders.get(entry.commissionId)
      return [
        entry.day,
        order?.number ?? null,
        order?.customer.name ?? null,
        entry.takesBack === null ? entry.kind : `${entry.kind}, undone`,
        BigInt(signed(entry.kind, entry.minor, entry.takesBack !== null)),
        shop.almanac.shop.currency.code,
        entry.how,
        entry.reference,
        counted.has(entry.id) ? 'yes' : 'no',
        new Date(entry.atMs).toISOString(),
      ]
    }),
  }
}

const signed = (kind: string, minor: number, takesBack: boolean): number =>
  (kind === 'refund' || kind === 'write-off' || kind === 'credit') !== takesBack ? -minor : minor
