import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { USUAL_YARD } from '../../../core/almanac/defaults.ts'
import type { WoodPrice } from '../../../core/almanac/almanac.ts'
import { inches } from '../../../core/lengths/length.ts'
import type {
  BoardOnHand,
  BoardPlan,
  CuttingPlan,
  CuttingRules,
  PartToCut,
} from '../../../core/timber/cutting-model.ts'
import { cuttingPlan } from '../../../core/timber/cutting-plan.ts'
import { costOfParts, offcutCost, woodCost, type WoodPrices } from '../../../core/timber/wood-cost.ts'
import { woodEstimate } from '../../../core/timber/wood-estimate.ts'
import { yardSizes } from '../../../core/timber/yard.ts'
import { NM3_PER_BOARD_FOOT, NM3_PER_CUBIC_METRE } from '../../../core/wood/board-measure.ts'

const perFoot = (minor: number): WoodPrice => ({ minor, per: 'board-foot' })
const perMetre = (minor: number): WoodPrice => ({ minor, per: 'cubic-metre' })

describe('what rough wood costs', () => {
  it('is its measure at the price, with so much more that the waste is covered', () => {
    expect(woodCost(8n * NM3_PER_BOARD_FOOT, perFoot(900), 0)).toBe(7200)
    // 80 board feet net at 20 % waste are 100 to buy.
    expect(woodCost(80n * NM3_PER_BOARD_FOOT, perFoot(850), 0.2)).toBe(85_000)
    expect(woodCost(NM3_PER_CUBIC_METRE / 50n, perMetre(145_000), 0)).toBe(2900)
  })

  it('is the same by the board foot and by the cubic meter', () => {
    // 1 m3 is 423.776 board feet: 4237.76 at 10.00 a board foot.
    expect(woodCost(NM3_PER_CUBIC_METRE, perFoot(1000), 0)).toBe(423_776)
  })

  it('rounds once, exact halves upwards', () => {
    expect(woodCost(NM3_PER_BOARD_FOOT / 2n, perFoot(1), 0)).toBe(1)
    expect(woodCost(NM3_PER_BOARD_FOOT / 2n - 1n, perFoot(1), 0)).toBe(0)
    // 1.15 board feet at 1.30 are 1.495: reckoned in floating point 149.49999999999997, which would be cut to 149.
    expect(woodCost((115n * NM3_PER_BOARD_FOOT) / 100n, perFoot(130), 0)).toBe(150)
    // 17 board feet at 0.05 with 15 % waste are exactly 1.00.
    expect(woodCost(17n * NM3_PER_BOARD_FOOT, perFoot(5), 0.15)).toBe(100)
  })

  it('is within half a unit of the exact quotient, whatever the amounts', () => {
    const volumes = fc.bigInt({ min: 0n, max: 500n * NM3_PER_BOARD_FOOT })
    fc.assert(
      fc.property(volumes, fc.nat(100_000), fc.integer({ min: 0, max: 90 }), (volume, minor, percent) => {
        const cost = BigInt(woodCost(volume, perFoot(minor), percent / 100))
        const kept = BigInt(100 - percent)
        const off = cost * NM3_PER_BOARD_FOOT * kept - volume * BigInt(minor) * 100n
        expect(2n * off <= NM3_PER_BOARD_FOOT * kept && -2n * off <= NM3_PER_BOARD_FOOT * kept).toBe(true)
      }),
    )
  })

  it('of an offcut is its share of the board', () =>
    expect(
      offcutCost(9600, { lengthNm: inches(96), widthNm: inches(8) }, { lengthNm: inches(24), widthNm: inches(4) }),
    ).toBe(1200))
})

const rules: CuttingRules = {
  kerfNm: inches(1 / 8),
  squareEndNm: inches(1),
  planing: { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
  usableLengthNm: inches(12),
  usableWidthNm: inches(1.5),
}

const board = (id: string, width: number, length: number): BoardOnHand => ({
  ...{ id, name: id, wood: 'maple', defects: [] },
  ...{ thicknessNm: inches(1), widthNm: inches(width), lengthNm: inches(length) },
})

const prices = (changes: Partial<WoodPrices> = {}): WoodPrices => ({
  ofBoard: () => null,
  ofWood: () => perFoot(600),
  wasteOf: () => 0,
  ...changes,
})

/** A board of 8 board feet: two parts of a third and a sixth of it, an offcut of a quarter. */
const plan = (bought: boolean): BoardPlan => ({
  board: board('b', 12, 96),
  bought,
  cuts: [],
  parts: [
    { part: 'top', x: 0, y: 0, lengthNm: inches(64), widthNm: inches(6) },
    { part: 'rail', x: 0, y: inches(6), lengthNm: inches(64), widthNm: inches(3) },
  ],
  offcuts: [{ x: inches(64), y: 0, lengthNm: inches(24), widthNm: inches(12) }],
})
const of = (...boards: readonly BoardPlan[]): CuttingPlan => ({ boards, missing: [] })

describe('what the parts of a cutting plan cost', () => {
  it('counts a board on hand at its own price, less what its offcuts are worth', () => {
    const { parts } = costOfParts(of(plan(false)), prices({ ofBoard: (id) => (id === 'b' ? 10_000 : null) }))
    expect([...parts]).toEqual([
      ['top', { onHand: 5000, toBuy: 0 }],
      ['rail', { onHand: 2500, toBuy: 0 }],
    ])
  })

  it('counts a board on hand without a price of its own as rough wood of the yard', () => {
    const { parts } = costOfParts(of(plan(false)), prices({ wasteOf: () => 0.5 }))
    // 8 board feet at 6.00 are 48.00, a quarter of it stays with the offcut.
    expect(parts.get('top')).toEqual({ onHand: 2400, toBuy: 0 })
    expect(parts.get('rail')).toEqual({ onHand: 1200, toBuy: 0 })
  })

  it('counts a board to buy with the waste', () => {
    const { parts, toBuy } = costOfParts(of(plan(true)), prices({ wasteOf: () => 0.5 }))
    expect(toBuy.get('maple')).toBe(9600)
    expect(parts.get('top')).toEqual({ onHand: 0, toBuy: 4800 })
  })

  it('invents no price', () => {
    const { parts, toBuy, unpriced } = costOfParts(of(plan(true), plan(false)), prices({ ofWood: () => null }))
    expect([parts.size, toBuy.size]).toEqual([0, 0])
    expect([...unpriced]).toEqual(['top', 'rail'])
  })

  it('adds up to the last cent: parts and offcuts are what was paid', () => {
    const wanted: PartToCut[] = [17, 23, 31].map((length, index) => ({
      ...{ id: `p${index}`, name: 'rail', forPiece: 'Tray', wood: 'maple', quantity: 3 },
      ...{ lengthNm: inches(length), widthNm: inches(1.75), thicknessNm: inches(0.75) },
    }))
    const amounts = fc.record({ paid: fc.integer({ min: 100, max: 50_000 }), asked: fc.integer({ min: 1, max: 3000 }) })
    fc.assert(
      fc.property(amounts, ({ paid, asked }) => {
        const cutting = cuttingPlan(wanted, [board('own', 6, 50)], rules, { yard: yardSizes(USUAL_YARD), tries: 20 })
        const known = prices({ ofBoard: () => paid, ofWood: () => perFoot(asked), wasteOf: () => 0.15 })
        const { parts, toBuy } = costOfParts(cutting, known)
        const own = cutting.boards.find(({ bought }) => !bought)
        const offcuts = own?.offcuts.reduce((sum, offcut) => sum + offcutCost(paid, own.board, offcut), 0) ?? 0
        const onHand = [...parts.values()].reduce((sum, cost) => sum + cost.onHand, 0)
        expect(onHand + offcuts).toBe(paid)
        const buying = [...parts.values()].reduce((sum, cost) => sum + cost.toBuy, 0)
        expect(buying).toBeLessThanOrEqual(toBuy.get('maple') ?? 0)
      }),
      { numRuns: 20 },
    )
  })
})

describe('what the wood of an order comes to', () => {
  const size = { lengthNm: inches(36), widthNm: inches(4), thicknessNm: inches(1.5) }
  const top = { name: 'top', wood: 'maple', quantity: 2, rough: size, finished: size }

  it('is its parts out of the yard’s thicknesses at the yard’s price, with waste', () => {
    const yard = { ...USUAL_YARD, waste: 0.2 }
    // Two of 2 in x 4 in x 36 in are 4 board feet, 5 with 20 % waste.
    expect(
      woodEstimate(
        [top],
        { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
        {
          yard,
          woodPrices: { maple: perFoot(700) },
          woodWaste: {},
        },
      ),
    ).toEqual([{ wood: 'maple', netNm3: 4n * NM3_PER_BOARD_FOOT, boughtFeet: 5, minor: 3500 }])
  })

  it('is not known where the wood has no price', () =>
    expect(
      woodEstimate(
        [top],
        { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
        {
          yard: USUAL_YARD,
          woodPrices: {},
          woodWaste: {},
        },
      )[0]?.minor,
    ).toBeNull())
})
