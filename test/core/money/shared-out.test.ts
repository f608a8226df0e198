import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sharedOut } from '../../../core/money/shared-out.ts'

describe('an amount shared out', () => {
  it('gives the cents that are left over to those who lost most', () => {
    expect(sharedOut(100, [1n, 1n, 1n])).toEqual([34, 33, 33])
    expect(sharedOut(100, [1n, 2n, 3n])).toEqual([17, 33, 50])
    expect(sharedOut(5, [0n, 0n])).toEqual([5, 0])
    expect(sharedOut(5, [])).toEqual([])
  })

  it('adds up to the amount, each share within one unit of its exact one', () => {
    const weights = fc.array(fc.bigInt({ min: 0n, max: 10n ** 18n }), { minLength: 1, maxLength: 12 })
    fc.assert(
      fc.property(fc.nat(10_000_000), weights, (amount, weighed) => {
        const shares = sharedOut(amount, weighed)
        const whole = weighed.reduce((sum, weight) => sum + weight, 0n)
        expect(shares.reduce((sum, share) => sum + share, 0)).toBe(amount)
        for (const [index, share] of shares.entries()) {
          if (whole === 0n) continue
          // Off by less than one: |share * whole - amount * weight| < whole.
          const off = BigInt(share) * whole - BigInt(amount) * (weighed[index] ?? 0n)
          expect(off < whole && -off < whole).toBe(true)
        }
      }),
    )
  })
})
