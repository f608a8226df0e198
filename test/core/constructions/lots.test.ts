import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { endGrainBoard } from '../../../core/constructions/end-grain/end-grain-board.ts'
import { buildLots, type LotsBuild } from '../../../core/constructions/lots.ts'
import type { ShopFacts } from '../../../core/constructions/shop-facts.ts'
import { aShop, withClamps, withRack } from './a-shop.ts'
import { expectSoundNetwork } from './sound-network.ts'

function lotsOf(count: number, facts: ShopFacts): LotsBuild {
  const spec = endGrainBoard.read({ ...endGrainBoard.starting('inch'), cellsAlong: '8' }, 'inch', facts)
  if (!spec.ok) throw new Error('the starting spec does not read')
  const build = buildLots(endGrainBoard, spec.value, count, facts)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

const counts = (build: LotsBuild) => build.lots.map((lot) => lot.count)

describe('lots', () => {
  test('a batch that fits stays together', () => {
    const build = lotsOf(3, aShop({ with: withClamps(15) }))
    expect(counts(build)).toEqual([3])
    expect(build.whyLots).toBeNull()
  })

  test('more boards than the clamps hold are split evenly, and why is said', () => {
    const build = lotsOf(7, aShop({ with: withClamps(20) }))
    expect(counts(build)).toEqual([4, 3])
    expect(build.whyLots).toBe('Made in 2 lots of 4 and 3: first glue-up of all 7 needs 36 clamps, you have 20.')
    // It is no warning: nothing is left to be done about it.
    expect(build.warnings).not.toContain(build.whyLots)
  })

  test('more boards than places on the rack are split', () => {
    const build = lotsOf(5, aShop({ with: (almanac) => withRack(3)(withClamps(40)(almanac)) }))
    expect(counts(build)).toEqual([3, 2])
    expect(build.whyLots).toMatch(/places on the rack/)
  })

  test('a coat that takes longer than any session is split as well', () => {
    // Evenings of an hour: five boards of 10 min a coat fit, seven take 70 min.
    const evenings = aShop({
      with: (almanac) => ({
        ...withRack(20)(withClamps(60)(almanac)),
        makers: almanac.makers.map((maker) => ({ ...maker, weeklyHours: { 1: [{ from: 1140, to: 1200 }] } })),
      }),
    })
    const build = lotsOf(7, evenings)
    expect(counts(build)).toEqual([4, 3])
    expect(build.whyLots).toMatch(
      /: a coat on all 7 takes 70 min without a break, the longest session in the shop is 60/,
    )
  })

  test('a board that does not fit into the clamps by itself is refused by name', () => {
    const facts = aShop({ with: withClamps(2) })
    const spec = endGrainBoard.read({ ...endGrainBoard.starting('inch'), cellsAlong: '8' }, 'inch', facts)
    const build = spec.ok ? buildLots(endGrainBoard, spec.value, 4, facts) : spec
    expect(build.ok ? [] : build.problems[0]?.message).toBe(
      'First glue-up needs 3 clamps, the almanac has 2: glue it up in two halves, make it smaller, or change the clamps.',
    )
  })

  test('every lot is sound, they make the whole batch, and its parts are those of the lots together', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 5, max: 20 }),
        fc.integer({ min: 1, max: 12 }),
        (count, clamps, rack) => {
          const facts = aShop({ with: (almanac) => withRack(rack)(withClamps(clamps)(almanac)) })
          const build = lotsOf(count, facts)
          expect(counts(build).reduce((sum, one) => sum + one, 0)).toBe(count)
          expect(Math.max(...counts(build)) - Math.min(...counts(build))).toBeLessThanOrEqual(1)
          for (const lot of build.lots) expectSoundNetwork(lot.steps, lot.lags, facts)
          const cells = build.parts.reduce(
            (sum, part) => sum + (part.quantity * part.finished.lengthNm) / (1.5 * 25_400_000),
            0,
          )
          expect(cells).toBeCloseTo(64 * count)
        },
      ),
      { numRuns: 40 },
    )
  })
})
