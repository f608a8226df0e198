import { expect, test } from 'vitest'
import { whatItLacks } from '../../renderer/backups/what-it-lacks.ts'

const orders = (count: number) => Array.from({ length: count }, (_, at) => ({ number: at + 1, customer: `C${at + 1}` }))

test('a copy that lacks nothing says so', () => {
  expect(whatItLacks({ orders: [], entries: 0 })).toBe('It holds all that your present order book holds.')
})

test('missing orders are named, the newest five of them, and the entries counted', () => {
  expect(whatItLacks({ orders: orders(1), entries: 1 })).toBe(
    'Only in your present order book: no. 1 (C1) and 1 entry in the log.',
  )
  expect(whatItLacks({ orders: orders(7), entries: 30 })).toBe(
    'Only in your present order book: no. 3 (C3), no. 4 (C4), no. 5 (C5), no. 6 (C6), no. 7 (C7), 2 more orders and 30 entries in the log.',
  )
  expect(whatItLacks({ orders: [], entries: 3 })).toBe('Only in your present order book: 3 entries in the log.')
})
