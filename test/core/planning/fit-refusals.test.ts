import { expect, test } from 'vitest'
import { refusals } from '../../../core/planning/problem/refusals.ts'
import { aShop, aStep, monday } from './a-shop.ts'

const hour = (day: number, from: number, to: number) => ({
  from: monday + day * 1440 + from * 60,
  to: monday + day * 1440 + to * 60,
})
const said = (step: Parameters<typeof aStep>) => refusals(aShop([aStep(...step)])).map(({ message }) => message)

test('a step that the air never allows long enough tells what is wrong with the air, in the words that it came with', () => {
  const allowed = [hour(0, 18, 19), hour(1, 20, 22)]
  expect(said(['coat', 90, { allowed, allowedHelp: 'It gets too damp. Air the shop.' }])).toEqual([
    '“coat” of board takes 1 h 30 min in one go. The air never allows it that long while somebody is there. It gets too damp. Air the shop.',
  ])
  expect(said(['coat', 60, { allowed }])).toEqual([])
})

test('a step that is longer than any session is told so, however little the air allows', () => {
  expect(said(['coat', 9 * 60, { allowed: [hour(0, 18, 19)], allowedHelp: 'It gets too cold.' }])).toEqual([
    '“coat” of board takes 9 h in one go, and the longest session is 8 h: make it shorter, let it be interrupted, or add a longer session.',
  ])
})
