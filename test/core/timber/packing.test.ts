import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bestPattern } from '../../../core/timber/packing/best-pattern.ts'
import { itemsOf } from '../../../core/timber/packing/items.ts'
import { kindsOf } from '../../../core/timber/packing/kinds.ts'
import { packingLowerBound } from '../../../core/timber/packing/lower-bound.ts'
import { packBins } from '../../../core/timber/packing/pack.ts'
import { relaxation } from '../../../core/timber/packing/relaxation.ts'

/** Every item once, no bin over its capacity; knows nothing of how the packing was made. */
const isPacking = (sizes: readonly number[], capacity: number, bins: readonly (readonly number[])[]) =>
  bins
    .flat()
    .toSorted((a, b) => a - b)
    .every((item, index) => item === index) &&
  bins.flat().length === sizes.length &&
  bins.every((bin) => bin.length > 0 && bin.reduce((load, item) => load + (sizes[item] ?? Infinity), 0) <= capacity)

/** Least number of bins, over all subsets: for each the fewest bins and, with these, the least load of the last one. */
function leastBins(sizes: readonly number[], capacity: number): number {
  const best = [{ bins: 0, load: capacity }]
  for (let set = 1; set < 1 << sizes.length; set++) {
    let least = { bins: Infinity, load: Infinity }
    for (const [item, size] of sizes.entries()) {
      const without = best[set & ~(1 << item)]
      if ((set & (1 << item)) === 0 || without === undefined) continue
      const now =
        without.load + size <= capacity
          ? { bins: without.bins, load: without.load + size }
          : { bins: without.bins + 1, load: size }
      if (now.bins < least.bins || (now.bins === least.bins && now.load < least.load)) least = now
    }
    best.push(least)
  }
  return best.at(-1)?.bins ?? 0
}

/** Triplets that fill their bins exactly, in any order: the least number is known by construction. */
const triplets = fc
  .array(fc.tuple(fc.integer({ min: 380, max: 490 }), fc.double({ min: 0, max: 1, noNaN: true })), {
    minLength: 5,
    maxLength: 20,
  })
  .map((pairs) =>
    pairs.flatMap(([first, share]) => {
      const second = 250 + Math.floor(((1000 - first) / 2 - 250) * share)
      return [first, second, 1000 - first - second]
    }),
  )

describe('packing into equal bins', () => {
  const few = fc.array(fc.integer({ min: 1, max: 40 }), { maxLength: 9 })

  it('needs no more bins than trying everything does', () => {
    fc.assert(
      fc.property(few, fc.integer({ min: 40, max: 70 }), (sizes, capacity) => {
        const packing = packBins(sizes, capacity)
        expect(isPacking(sizes, capacity, packing.bins)).toBe(true)
        expect(packing.bins.length).toBe(leastBins(sizes, capacity))
        expect(packing.lowerBound).toBeLessThanOrEqual(packing.bins.length)
      }),
      { numRuns: 200 },
    )
  })

  it('finds the packing that triplets were cut from', () => {
    fc.assert(
      fc.property(triplets, (sizes) => {
        const packing = packBins(sizes, 1000)
        expect(isPacking(sizes, 1000, packing.bins)).toBe(true)
        expect(packing.bins.length).toBe(sizes.length / 3)
      }),
      { numRuns: 10 },
    )
  })

  it('never overfills a bin nor loses an item, whatever the sizes and however early it is stopped', () => {
    const many = fc.array(fc.integer({ min: 1, max: 100_000 }), { maxLength: 80 })
    fc.assert(
      fc.property(many, fc.nat(200), (sizes, patience) => {
        let asked = 0
        const packing = packBins(sizes, 100_000, { tries: 2, stop: () => ++asked > patience })
        expect(isPacking(sizes, 100_000, packing.bins)).toBe(true)
        expect(packing.bins.length).toBeGreaterThanOrEqual(packing.lowerBound)
      }),
      { numRuns: 60 },
    )
  })

  it('gives the same packing for the same question', () => {
    const sizes = Array.from({ length: 60 }, (_, index) => 200 + ((index * 7919) % 301))
    expect(packBins(sizes, 1000, { seed: 3 })).toEqual(packBins(sizes, 1000, { seed: 3 }))
  })

  it('takes sizes that share a divisor for the smaller numbers they stand for', () => {
    const sizes = [6, 5, 5, 4, 4, 3, 3, 2, 2, 2]
    const larger = sizes.map((size) => size * 396_875)
    expect(packBins(larger, 10 * 396_875).bins.length).toBe(packBins(sizes, 10).bins.length)
  })
})

describe('the bounds of a packing', () => {
  const few = fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 9 })

  it('are never above the least number of bins', () => {
    fc.assert(
      fc.property(few, fc.integer({ min: 60, max: 100 }), (sizes, capacity) => {
        const items = itemsOf(sizes, capacity)
        const least = leastBins(sizes, capacity)
        expect(packingLowerBound(items)).toBeLessThanOrEqual(least)
        const kinds = kindsOf(items)
        const relaxed = relaxation(kinds.sizes, kinds.counts, kinds.capacity, [], () => false)
        expect(relaxed.proved).toBe(true)
        expect(Math.ceil(relaxed.value - 1e-5)).toBeLessThanOrEqual(least)
      }),
      { numRuns: 300 },
    )
  })

  it('know that items over one half never share a bin', () => {
    expect(packingLowerBound(itemsOf([51, 51, 51], 100))).toBe(3)
    expect(packingLowerBound(itemsOf([34, 34, 34, 34, 34], 100))).toBe(3)
  })
})

describe('the best pattern', () => {
  it('is as good as trying every combination, by table and by branching', () => {
    const rows = fc.array(
      fc.record({
        size: fc.integer({ min: 1, max: 30 }),
        count: fc.integer({ min: 1, max: 3 }),
        worth: fc.double({ min: 0, max: 1, noNaN: true }),
      }),
      { minLength: 1, maxLength: 5 },
    )
    fc.assert(
      fc.property(rows, fc.constantFrom(1, 50_000), (kinds, scale) => {
        const capacity = 40 * scale
        const most = (index: number, room: number): number => {
          const kind = kinds[index]
          if (kind === undefined) return 0
          let best = 0
          for (let count = 0; count <= kind.count && count * kind.size * scale <= room; count++) {
            best = Math.max(best, count * kind.worth + most(index + 1, room - count * kind.size * scale))
          }
          return best
        }
        const found = bestPattern(
          Int32Array.from(kinds, (kind) => kind.size * scale),
          Int32Array.from(kinds, (kind) => kind.count),
          Float64Array.from(kinds, (kind) => kind.worth),
          capacity,
        )
        expect(found?.best ?? true).toBe(true)
        expect(found?.worth ?? 0).toBeCloseTo(most(0, capacity), 6)
        const load = found?.kinds.reduce(
          (sum, row, at) => sum + (found.counts[at] ?? 0) * (kinds[row]?.size ?? 0) * scale,
          0,
        )
        expect(load ?? 0).toBeLessThanOrEqual(capacity)
      }),
      { numRuns: 400 },
    )
  })
})
