import fc from 'fast-check'
import { expect, test } from 'vitest'
import { USUAL_YARD } from '../../core/almanac/defaults.ts'
import { inches } from '../../core/lengths/length.ts'
import { cuttingPlan } from '../../core/timber/cutting-plan.ts'
import { yardSizes } from '../../core/timber/yard.ts'
import { cutNumbers, isThroughWhole } from '../../renderer/timber/cut-numbers.ts'

const rules = {
  kerfNm: inches(1 / 8),
  squareEndNm: inches(1 / 4),
  planing: { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
  usableLengthNm: inches(12),
  usableWidthNm: inches(1.5),
}
/** Nine pixels an inch: a board of eight feet on a screen of 1280. */
const px = (nm: number): number => (9 * nm) / inches(1)

const parts = fc.array(
  fc.record({
    quantity: fc.integer({ min: 1, max: 5 }),
    length: fc.integer({ min: 8, max: 60 }),
    width: fc.integer({ min: 2, max: 6 }),
  }),
  { minLength: 1, maxLength: 4 },
)

test('every cut has its number on its own line, and in the board', () => {
  fc.assert(
    fc.property(parts, (asked) => {
      const wanted = asked.map(({ quantity, length, width }, index) => ({
        ...{ id: `p${index}`, name: 'rail', forPiece: 'Tray', wood: 'ash', quantity, thicknessNm: inches(0.75) },
        ...{ lengthNm: inches(length), widthNm: inches(width) },
      }))
      const plan = cuttingPlan(wanted, [], rules, { yard: yardSizes(USUAL_YARD), tries: 5 })
      for (const { board, cuts } of plan.boards) {
        const numbered = cuts.map((cut, index) => ({ ...cut, number: index + 1, text: '' }))
        const plates = cutNumbers({ ...board, cuts: numbered }, px, [])
        expect(plates.map(({ number }) => number)).toEqual(numbered.map(({ number }) => number))
        for (const [index, cut] of numbered.entries()) {
          const plate = plates[index]
          if (plate === undefined || isThroughWhole(cut, board.widthNm)) continue
          const line = px((cut.fromNm + cut.toNm) / 2)
          const [from, long] = cut.way === 'rip' ? [plate.y, plate.height] : [plate.x, plate.width]
          const across = cut.way === 'rip' ? px(board.widthNm) - line : line
          expect(across).toBeGreaterThanOrEqual(from - 1e-6)
          expect(across).toBeLessThanOrEqual(from + long + 1e-6)
          expect(plate.x).toBeGreaterThanOrEqual(0)
          expect(plate.y + plate.height).toBeLessThanOrEqual(px(board.widthNm) + 1e-6)
        }
      }
    }),
    { numRuns: 40 },
  )
})

test('a number makes way for what is written and for the numbers before it', () => {
  const through = { x: 0, y: 0, lengthNm: inches(60), widthNm: inches(6) }
  const rip = (number: number) => ({
    number,
    way: 'rip' as const,
    through,
    fromNm: inches(2),
    toNm: inches(2.125),
    text: '',
  })
  const board = { widthNm: inches(6), lengthNm: inches(60), cuts: [rip(1), rip(2)] }
  const letter = { x: 0, y: 0, width: 100, height: px(inches(6)) }
  const [one, two] = cutNumbers(board, px, [letter])
  expect(one?.x).toBeGreaterThanOrEqual(100)
  expect(two?.x).toBeGreaterThanOrEqual((one?.x ?? 0) + (one?.width ?? 0))
})
