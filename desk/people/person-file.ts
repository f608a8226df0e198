import { writeMoney } from '../../core/money/money.ts'
import { paperText } from '../../core/papers/paper-text.ts'
import { ok, type Result } from '../../core/problems.ts'
import { localDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { type OrderBookRow, orderBookRowsOf } from '../../db/order-lists.ts'
import { moneyOf } from '../../db/money.ts'
import { papersOf } from '../../db/papers.ts'
import { promisesOf } from '../../db/promises.ts'
import type { FileToKeep } from '../open-formats/take-along.ts'
import type { OpenShop } from '../open-shop.ts'
import { knownCustomer } from './erase.ts'

/** Everything that the book has about one customer, as one text that anybody can read: for a customer who asks for it. */
export async function personFile(shop: OpenShop, customerId: string): Promise<Result<FileToKeep>> {
  const known = await knownCustomer(shop, customerId)
  if (!known.ok) return known
  const { customer, customerIds } = known.value
  const { today, wording, almanac } = shop.moment()
  const rows = await orderBookRowsOf(shop.db, { customerIds })
  const orders = await Promise.all(rows.map((row) => orderText(shop, row)))
  const text = [
    `What ${almanac.shop.name} keeps about ${customer.name}, as of ${writeLocalDay(today, wording.locale)}`,
    [
      ['Name', customer.name],
      ['Phone or email', customer.reach],
      ['Backup contact', customer.secondReach],
      ['Address', customer.address],
      ['Allergies', customer.allergies],
      ['Child under 3', customer.childUnder3 === 'not-asked' ? 'not asked' : customer.childUnder3],
      ['Notes', customer.notes],
    ]
      .filter(([, value]) => value !== '')
      .map((line) => line.join(': '))
      .join('\n'),
    ...orders,
    'Backups of the order book hold the same until newer ones take their place. Nothing is sent to anybody.',
  ].join('\n\n')
  return ok({ name: `out-of-clamps-customer-${today}.txt`, mediaType: 'text/plain', text: `${text}\n` })
}

async function orderText(shop: OpenShop, { commission, pieces }: OrderBookRow): Promise<string> {
  const { wording, almanac } = shop.moment()
  const { currency, timeZone } = almanac.shop
  const day = (local: string): string => writeLocalDay(local, wording.locale)
  const money = (minor: number): string => writeMoney(minor, currency, wording.locale)
  const line = (label: string, value: string | null): string[] =>
    value === null || value === '' ? [] : [`${label}: ${value}`]
  const promises = await promisesOf(shop.db, [commission.id])
  const papers = (await papersOf(shop.db, commission.id)).reverse()
  return [
    [
      `ORDER NO. ${commission.number}`,
      ...line('Taken', day(localDay(commission.takenAtMin, timeZone))),
      ...line('Standing', STANDING_WORDS[commission.standing]),
      ...pieces.map(({ title, count }) => `Piece: ${count === 1 ? title : `${count} × ${title}`}`),
      ...line('Needed by', commission.neededBy && day(commission.neededBy)),
      ...line('Occasion', commission.neededWhy),
      ...line('Notes', commission.notes),
      ...line('Gift for', [commission.giftFor, commission.giftAddress].filter((text) => text !== '').join(', ')),
      ...line('Price', commission.priceMinor === null ? null : money(commission.priceMinor)),
      ...commission.extraLines.map(({ name, minor }) => `${name}: ${money(minor)}`),
      ...line('No tax because', commission.untaxedWhy),
      ...line('On hold because', commission.onHoldWhy),
      ...line('Closed because', commission.closedWhy),
      ...promises.flatMap(({ day: given, kind }) =>
        line(kind === 'quote' ? 'Quoted for' : 'Promised for', given && day(given)),
      ),
      ...(await moneyOf(shop.db, [commission.id])).map(
        ({ kind, minor, how, day: on, reference }) =>
          `${kind === 'payment' ? 'Paid' : kind} ${money(minor)}, ${how}, ${day(on)}${reference === '' ? '' : ` (${reference})`}`,
      ),
    ].join('\n'),
    ...papers.map(({ paper, number }) => paperText(paper, number, day(paper.day), wording.locale)),
  ].join('\n\n')
}

const STANDING_WORDS = {
  'asked-about': 'inquiry',
  agreed: 'order taken',
  'handed-over': 'handed over',
  'called-off': 'canceled',
} as const
