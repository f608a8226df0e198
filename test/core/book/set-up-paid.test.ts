import { expect, test } from 'vitest'
import type { Book, BookStep, StepEntry } from '../../../core/book/book.ts'
import { setUpPaid } from '../../../core/book/set-up-paid.ts'

const step = (id: string, family: string | null): BookStep => ({
  ...{
    id,
    pieceId: 'p',
    commissionId: 'c',
    position: 0,
    lot: 1,
    lots: 1,
    lotCount: 1,
    key: id,
    operation: 'rip-strips',
  },
  ...{ name: id, note: '', minutes: 20, optimisticMin: 20, pessimisticMin: 20, units: null, hands: 1 },
  ...{ interruptible: true, smallestStretchMin: 0, holds: [], dusty: false, tackyMin: 0, tackyProduct: null },
  setUp: family === null ? null : { family, minutes: 10 },
  cautions: [],
})

let number = 0
const worked = (stepId: string, from: number, to: number): StepEntry[] => [
  { id: ++number, atMin: from, stepId, makerId: 'wren', action: { kind: 'started' } },
  { id: ++number, atMin: to, stepId, makerId: 'wren', action: { kind: 'done' } },
]

const book = (...log: StepEntry[]): Pick<Book, 'steps' | 'log'> => ({
  steps: [step('a', 'saw'), step('b', 'planer'), step('c', null)],
  log,
})
const evenings = {
  makers: [
    {
      id: 'wren',
      name: 'Wren',
      hours: [
        { from: 0, to: 150 },
        { from: 1440, to: 1590 },
      ],
    },
  ],
}
const ripping = { setUp: { family: 'saw', minutes: 10 } }

test('the saw is set up once an evening, and a glue-up in between leaves it as it is', () => {
  expect(setUpPaid(ripping, 5, 'wren', book(), evenings)).toBe(10)
  expect(setUpPaid(ripping, 60, 'wren', book(...worked('a', 0, 20), ...worked('c', 20, 60)), evenings)).toBe(0)
})

test('another machine in between, another maker or another evening pays it again', () => {
  expect(setUpPaid(ripping, 60, 'wren', book(...worked('a', 0, 20), ...worked('b', 20, 60)), evenings)).toBe(10)
  expect(setUpPaid(ripping, 30, 'ash', book(...worked('a', 0, 20)), evenings)).toBe(10)
  expect(setUpPaid(ripping, 1450, 'wren', book(...worked('a', 0, 150)), evenings)).toBe(10)
})

test('at hours that the almanac does not have, a break of an hour still leaves the saw set up', () => {
  expect(setUpPaid(ripping, 560, 'wren', book(...worked('a', 480, 500)), evenings)).toBe(0)
  expect(setUpPaid(ripping, 561, 'wren', book(...worked('a', 480, 500)), evenings)).toBe(10)
})

test('what has no setup pays none', () => {
  expect(setUpPaid({ setUp: null }, 5, 'wren', book(), evenings)).toBe(0)
})
