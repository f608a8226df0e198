import { describe, expect, test } from 'vitest'
import { closestSold, type SoldBefore, woodIn } from '../../../core/money/sold-before.ts'

const sold = (number: number, woodMm3: number | null): SoldBefore => ({
  ...{ commissionId: String(number), number, customer: '', title: '', outcome: 'sold', takenOn: '2026-01-01' },
  ...{ eachMinor: 1, woodMm3 },
})

const numbers = (all: readonly SoldBefore[], wood: number | null) =>
  closestSold(all, wood, 3).map(({ number }) => number)

describe('pieces sold before', () => {
  test('half as much wood is as far away as twice as much, and the newer of two equals comes first', () => {
    expect(numbers([sold(1, 50), sold(2, 200), sold(3, 110), sold(4, null)], 100)).toEqual([3, 2, 1])
  })

  test('without a size the newest come first', () => {
    expect(numbers([sold(1, 50), sold(4, 1), sold(2, 200), sold(3, null)], null)).toEqual([4, 3, 2])
  })

  // 300 x 200 x 20 mm twice, of which half is cut away: 1,200,000 cubic millimeters.
  test('wood is counted by finished sizes and by what is really wood', () => {
    const finished = { lengthNm: 300e6, widthNm: 200e6, thicknessNm: 20e6 }
    expect(woodIn([{ quantity: 2, solidShare: 0.5, finished }])).toBeCloseTo(1_200_000)
  })
})
