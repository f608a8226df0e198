import { describe, expect, test } from 'vitest'
import { nothingToSay } from '../../desk/screens/outlook.ts'
import { findOrders, ofList } from '../../renderer/order-book/find-orders.ts'
import type { OrderRow } from '../../desk/orders/order-rows.ts'

const order = (
  number: number,
  customer: string,
  titles: readonly string[],
  standing: OrderRow['standing'],
): OrderRow => ({
  commissionId: String(number),
  number,
  customer,
  reach: '',
  titles,
  standing,
  holdWhy: '',
  neededBy: null,
  promisedFor: null,
  doneAt: null,
  lateMinutes: 0,
  outlook: nothingToSay,
  stepsDone: 0,
  stepsTotal: 12,
  nextStep: 'Rip strips',
  totalMinor: null,
  paidMinor: 0,
  owedMinor: 0,
  moneyState: 'not-priced',
  lists: standing === 'ready-to-collect' ? ['to-call', 'to-pick-up'] : [],
  text: [customer, `no. ${number}`, ...titles].join(', '),
})

const book = [
  order(101, 'Ada Harlow', ['Serving tray 20" x 14"'], 'in-the-shop'),
  order(102, 'Inês Prado', ['Checkerboard', 'Bread board'], 'agreed'),
  order(110, 'Hugo Wren', ['Side table, cherry'], 'ready-to-collect'),
]
const found = (sought: string): number[] => findOrders(book, sought).map((row) => row.number)

describe('finding in the order book', () => {
  test.each([
    ['', [101, 102, 110]],
    ['  ', [101, 102, 110]],
    ['harlow', [101]],
    ['ines', [102]],
    ['110', [110]],
    ['board', [102]],
    ['prado board', [102]],
    ['harlow board', []],
    ['pickup', [110]],
    ['rip', [101, 102, 110]],
  ])('“%s” finds %j', (sought, numbers) => {
    expect(found(sought)).toEqual(numbers)
  })
})

test('a list has the orders that are on it, no list has all of them', () => {
  expect(ofList(book, 'to-pick-up').map(({ number }) => number)).toEqual([110])
  expect(ofList(book, 'owing')).toEqual([])
  expect(ofList(book, null)).toBe(book)
})
