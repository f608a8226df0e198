import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { remakeShare } from '../../../core/money/remake-reserve.ts'

const hours = (count: number): number => count * 60
const percent = (share: number): number => share * 10_000

describe('what is kept back for remakes', () => {
  // By hand, with Z = n / (n + 100 h) of Buhlmann 1967: 300 h give Z = 0.75, a record of 15 h in 300 h is 5 %,
  // 0.75 x 5 % + 0.25 x 3 % = 4.5 %.
  it('is what was typed, moved by the shop’s own record', () => {
    expect(remakeShare(percent(3), { goodMin: hours(300), lostMin: hours(15) })).toBe(percent(4.5))
    // Nothing typed: 4 h lost in 100 h that count are 2 %, as Z is a half.
    expect(remakeShare(0, { goodMin: hours(100), lostMin: hours(4) })).toBe(percent(2))
    // A year without a failure brings 3 % down to a third of it.
    expect(remakeShare(percent(3), { goodMin: hours(200), lostMin: 0 })).toBe(percent(1))
  })

  it('is what was typed while nothing is logged', () => {
    expect(remakeShare(percent(3.25), { goodMin: 0, lostMin: 0 })).toBe(percent(3.25))
  })

  it('lies between what was typed and the record, and is never more than the cost', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1_000_000 }),
        fc.integer({ min: 1, max: 10_000_000 }),
        fc.integer({ min: 0, max: 10_000_000 }),
        (typed, goodMin, lostMin) => {
          const record = (lostMin * 1_000_000) / goodMin
          const share = remakeShare(typed, { goodMin, lostMin })
          expect(share).toBeGreaterThanOrEqual(Math.floor(Math.min(typed, record, 1_000_000)))
          expect(share).toBeLessThanOrEqual(Math.min(1_000_000, Math.ceil(Math.max(typed, record))))
        },
      ),
    )
  })
})
