import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { USUAL_YARD } from '../../../core/almanac/defaults.ts'
import { feet, inches, millimetres } from '../../../core/lengths/length.ts'
import { clearStretches } from '../../../core/timber/clear-stretches.ts'
import { cutInWords } from '../../../core/timber/cut-words.ts'
import type { BoardOnHand, CuttingRules, PartToCut } from '../../../core/timber/cutting-model.ts'
import { cuttingPlan } from '../../../core/timber/cutting-plan.ts'
import { packBins } from '../../../core/timber/packing/pack.ts'
import { shoppingList } from '../../../core/timber/shopping-list.ts'
import { yardSizes } from '../../../core/timber/yard.ts'
import { boardFeetOf } from '../../../core/wood/board-measure.ts'
import { boughtForNothing } from './check-buying.ts'
import { faultIn } from './check-cutting.ts'

const rules: CuttingRules = {
  kerfNm: inches(1 / 8),
  squareEndNm: inches(1),
  planing: { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
  usableLengthNm: inches(12),
  usableWidthNm: inches(1.5),
}

const usual = yardSizes(USUAL_YARD)

const board = (
  id: string,
  thickness: number,
  width: number,
  length: number,
  change: Partial<BoardOnHand> = {},
): BoardOnHand => ({
  id,
  name: id,
  wood: 'maple',
  thicknessNm: inches(thickness),
  widthNm: inches(width),
  lengthNm: inches(length),
  defects: [],
  ...change,
})

const part = (
  id: string,
  quantity: number,
  length: number,
  width: number,
  change: Partial<PartToCut> = {},
): PartToCut => ({
  id,
  name: id,
  forPiece: 'Checkerboard',
  wood: 'maple',
  quantity,
  lengthNm: inches(length),
  widthNm: inches(width),
  thicknessNm: inches(0.75),
  ...change,
})

describe('a cutting plan', () => {
  it('cuts what fits, says what is left, and leaves the second board alone', () => {
    const parts = [part('strip', 4, 20, 1.5)]
    const plan = cuttingPlan(parts, [board('a', 1, 6.5, 48), board('b', 1, 6.5, 96)], rules)
    expect(faultIn(plan, parts, rules)).toBeNull()
    expect(plan.missing).toEqual([])
    expect(plan.boards).toHaveLength(1)
    expect(plan.boards[0]?.parts).toHaveLength(4)
    expect(plan.boards[0]?.offcuts.length).toBeGreaterThan(0)
  })

  it('cuts parts of two orders from one board', () => {
    const parts = [part('strip', 2, 20, 3, { forPiece: 'Checkerboard' }), part('rail', 2, 20, 3, { forPiece: 'Tray' })]
    const plan = cuttingPlan(parts, [board('a', 1, 6.25, 44), board('b', 1, 6.25, 44)], rules)
    expect(faultIn(plan, parts, rules)).toBeNull()
    expect(plan.boards.map((one) => one.parts.length)).toEqual([4])
  })

  it('never lays a part over a defect', () => {
    const parts = [part('leg', 2, 30, 2)]
    const knotty = board('a', 1, 2.5, 96, { defects: [{ fromNm: inches(40), toNm: inches(45) }] })
    const plan = cuttingPlan(parts, [knotty], rules)
    expect(faultIn(plan, parts, rules)).toBeNull()
    expect(plan.boards[0]?.parts.map((one) => one.x < inches(40))).toEqual([true, false])
  })

  it('says why a part is missing and what would do', () => {
    const reason = (wide: PartToCut, boards: readonly BoardOnHand[] = [board('a', 1, 6, 48)]) =>
      cuttingPlan([wide], boards, rules).missing[0]?.reason
    expect(reason(part('top', 1, 40, 20))).toBe(
      'top for Checkerboard is wider than any board: glue it up from narrower ones.',
    )
    expect(reason(part('rail', 1, 60, 2))).toBe('rail for Checkerboard is longer than any board.')
    expect(reason(part('leg', 1, 20, 2, { thicknessNm: inches(2) }))).toBe(
      'leg for Checkerboard is thicker than any board: glue it up from thinner ones.',
    )
    expect(reason(part('strip', 1, 20, 2), [])).toBe('strip for Checkerboard: there is no board of this wood.')
    expect(reason(part('strip', 9, 40, 5))).toMatch(/used up/)
  })

  it('takes the thin board for a thin part and the thick one for a thick part', () => {
    const parts = [part('strip', 1, 20, 2), part('leg', 1, 20, 2, { thicknessNm: inches(1.75) })]
    const plan = cuttingPlan(parts, [board('thick', 2, 6, 48), board('thin', 1, 6, 48)], rules)
    expect(faultIn(plan, parts, rules)).toBeNull()
    const from = new Map(plan.boards.flatMap((one) => one.parts.map((cut) => [cut.part, one.board.id])))
    expect(from).toEqual(
      new Map([
        ['leg', 'thick'],
        ['strip', 'thin'],
      ]),
    )
  })

  it('buys what the boards on hand do not give, in the sizes of the yard', () => {
    const parts = [part('strip', 30, 22, 2.25, { thicknessNm: inches(1.5) })]
    const plan = cuttingPlan(parts, [board('a', 2, 7, 48)], rules, { yard: usual })
    expect(faultIn(plan, parts, rules)).toBeNull()
    expect(plan.missing).toEqual([])
    const list = shoppingList(plan)
    expect(list.length).toBeGreaterThan(0)
    for (const line of list) expect(line.thicknessNm).toBe(inches(2))
    const bought = boardFeetOf(list.reduce((sum, line) => sum + line.volumeNm3, 0n))
    // 30 x 22 x 2 1/4 x 2 in is 20.6 board feet; six came from the board on hand.
    expect(bought).toBeGreaterThan(16.5)
    expect(bought).toBeLessThan(28)
  })

  it('takes a thick board on hand for thin parts before it buys a thin one', () => {
    const parts = [part('long', 1, 110, 5), part('short', 6, 30, 2.5)]
    const boards = [board('thick', 2, 8, 96)]
    const plan = cuttingPlan(parts, boards, rules, { yard: usual })
    expect(faultIn(plan, parts, rules)).toBeNull()
    const bought = plan.boards.filter((one) => one.bought)
    expect(bought.map((one) => one.parts.map((cut) => cut.part))).toEqual([['long']])
  })

  it('buys no longer or wider a board than its parts need', () => {
    const parts = [part('rail', 2, 60, 2.75)]
    const plan = cuttingPlan(parts, [], rules, { yard: usual })
    expect(shoppingList(plan)).toMatchObject([{ widthNm: inches(6), lengthNm: feet(6), count: 1 }])
  })

  it('buys in the sizes of this yard', () => {
    const own = { thicknessesNm: [millimetres(27)], widthsNm: [millimetres(180)], lengthsNm: [millimetres(2500)] }
    const parts = [part('rail', 3, 30, 4)]
    const plan = cuttingPlan(parts, [], rules, { yard: yardSizes({ ...own, waste: 0 }) })
    expect(faultIn(plan, parts, rules)).toBeNull()
    expect(shoppingList(plan)).toMatchObject([
      { thicknessNm: millimetres(27), widthNm: millimetres(180), lengthNm: millimetres(2500), count: 1 },
    ])
  })

  it('is told when a board is bought for nothing', () => {
    const parts = [part('rail', 1, 40, 5), part('leg', 2, 20, 2)]
    const needless = cuttingPlan(parts, [], rules, { yard: usual })
    const judged = (...onHand: BoardOnHand[]) => boughtForNothing(needless, parts, onHand, rules)
    expect(judged(board('short', 1, 8, 40))).toBeNull()
    expect(judged(board('thin', 0.75, 8, 96))).toBeNull()
    expect(judged(board('knotty', 1, 8, 70, { defects: [{ fromNm: inches(35), toNm: inches(36) }] }))).toBeNull()
    expect(judged(board('large', 1, 8, 70))).toBe('buy-1 (3 parts) need not be bought')
    expect(judged(board('one', 1, 6, 44), board('other', 2, 2, 44))).toBe('buy-1 (3 parts) need not be bought')
  })

  it('fills lanes as tightly as a packing of lengths does', () => {
    const lengths = [31, 29, 27, 26, 24, 22, 21, 19, 18, 17, 15, 14, 13, 12, 11]
    const parts = lengths.map((length, index) => part(`rail-${index}`, 2, length, 2))
    const boards = Array.from({ length: 20 }, (_, index) => board(`b${index}`, 1, 2, 62))
    const plan = cuttingPlan(parts, boards, rules)
    expect(faultIn(plan, parts, rules)).toBeNull()
    const eighths = lengths.flatMap((length) => [8 * length + 1, 8 * length + 1])
    const least = packBins(eighths, 8 * 60 + 1)
    expect(least.bins.length).toBe(least.lowerBound)
    expect(plan.boards).toHaveLength(least.bins.length)
  })

  it('says its cuts as they are said at the saw', () => {
    const through = { x: inches(1), y: 0, lengthNm: inches(94), widthNm: inches(6) }
    const size = { lengthNm: inches(18.5), widthNm: inches(2) }
    const yields = {
      parts: [
        { ...size, letter: 'A', x: inches(1), y: 0 },
        { ...size, letter: 'B', x: inches(1), y: inches(2.125) },
        { ...size, letter: 'C', x: inches(30), y: 0 },
      ],
      offcuts: [{ ...through, y: inches(4.25), widthNm: inches(1.75) }],
    }
    const crosscut = { way: 'crosscut', through, fromNm: inches(19.5), toNm: inches(19.625) } as const
    expect(cutInWords(crosscut, yields, 'inch')).toBe('Crosscut to 18 1/2" (parts A, B)')
    const rip = {
      way: 'rip',
      through: { ...through, lengthNm: inches(18.5) },
      fromNm: inches(2),
      toNm: inches(2.125),
    } as const
    expect(cutInWords(rip, yields, 'inch')).toBe('Rip to 2" (part A)')
    const last = { way: 'rip', through: { ...through, y: inches(4.25) }, fromNm: inches(6), toNm: inches(6) } as const
    expect(cutInWords(last, yields, 'inch')).toBe('Rip to 1 3/4" (offcut)')
    const none = { parts: [], offcuts: [] }
    expect(cutInWords({ ...rip, fromNm: millimetres(3), toNm: millimetres(6) }, none, 'millimetre')).toBe(
      'Trim 3 mm off the lower edge',
    )
    expect(cutInWords({ ...crosscut, fromNm: through.x, toNm: through.x + inches(1 / 8) }, none, 'inch')).toBe(
      'Trim the left end',
    )
  })

  it('comes off a simulated saw as planned, whatever is asked', () => {
    const some = fc.record({
      quantity: fc.integer({ min: 0, max: 6 }),
      length: fc.integer({ min: 1, max: 60 }),
      width: fc.integer({ min: 1, max: 10 }),
      thickness: fc.constantFrom(0.5, 0.75, 1.5),
      wood: fc.constantFrom('maple', 'walnut'),
    })
    const plank = fc.record({
      thickness: fc.constantFrom(1, 1.25, 2),
      width: fc.integer({ min: 2, max: 12 }),
      length: fc.integer({ min: 1, max: 120 }),
      wood: fc.constantFrom('maple', 'walnut'),
      defects: fc.array(fc.tuple(fc.integer({ min: 0, max: 130 }), fc.integer({ min: 0, max: 8 })), { maxLength: 3 }),
    })
    const sawing = fc.record({
      kerfNm: fc.constantFrom(inches(1 / 8), inches(3 / 32), millimetres(3)),
      squareEndNm: fc.constantFrom(0, inches(1 / 16), inches(1)),
    })
    fc.assert(
      fc.property(
        fc.array(some, { maxLength: 6 }),
        fc.array(plank, { maxLength: 5 }),
        sawing,
        fc.boolean(),
        fc.constantFrom(20, 120),
        (asked, planks, saw, buy, tries) => {
          const parts = asked.map(({ quantity, length, width, thickness, wood }, index) =>
            part(`p${index}`, quantity, length, width, { wood, thicknessNm: inches(thickness) }),
          )
          const boards = planks.map(({ thickness, width, length, wood, defects }, index) =>
            board(`b${index}`, thickness, width, length, {
              wood,
              defects: defects.map(([from, long]) => ({ fromNm: inches(from), toNm: inches(from + long / 16) })),
            }),
          )
          const these = { ...rules, ...saw }
          const plan = cuttingPlan(parts, boards, these, { tries, yard: buy ? usual : [] })
          expect(faultIn(plan, parts, these)).toBeNull()
          expect(boughtForNothing(plan, parts, boards, these)).toBeNull()
        },
      ),
      { numRuns: 150 },
    )
  })

  it('is the same for the same question', () => {
    const parts = [part('a', 5, 17, 2), part('b', 3, 23, 3), part('c', 2, 11, 1.5)]
    const boards = [board('x', 1, 7, 70), board('y', 1, 5, 90)]
    expect(cuttingPlan(parts, boards, rules)).toEqual(cuttingPlan(parts, boards, rules))
  })
})

describe('clear stretches', () => {
  it('leave out the ends and the defects', () => {
    const { regions } = clearStretches(
      board('a', 1, 6, 96, { defects: [{ fromNm: inches(40), toNm: inches(45) }] }),
      inches(1 / 8),
      inches(1),
    )
    expect(regions.map(({ x, lengthNm }) => [x / inches(1), lengthNm / inches(1)])).toEqual([
      [1, 39],
      [45, 50],
    ])
  })

  it('are none where everything is defect', () => {
    const spoiled = board('a', 1, 6, 20, { defects: [{ fromNm: 0, toNm: feet(5) }] })
    expect(clearStretches(spoiled, inches(1 / 8), inches(1)).regions).toEqual([])
  })
})
