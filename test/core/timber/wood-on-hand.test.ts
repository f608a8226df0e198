import fc from 'fast-check'
import { expect, it } from 'vitest'
import { inches } from '../../../core/lengths/length.ts'
import type { BoardOnHand, CuttingRules, PartToCut } from '../../../core/timber/cutting-model.ts'
import { cuttingPlan } from '../../../core/timber/cutting-plan.ts'
import { woodOnHand } from '../../../core/timber/wood-on-hand.ts'

const rules: CuttingRules = {
  kerfNm: inches(0.125),
  squareEndNm: inches(1),
  planing: { planeFaceNm: inches(0.125), planeThickNm: inches(0.25) },
  usableLengthNm: inches(12),
  usableWidthNm: inches(2),
}

const board = (id: string, length: number, wood = 'walnut'): BoardOnHand => ({
  ...{ id, name: id, wood, thicknessNm: inches(1), widthNm: inches(6), lengthNm: inches(length), defects: [] },
})

const part = (id: string, length: number, quantity = 1, wood = 'walnut'): PartToCut => ({
  ...{ id, name: id, forPiece: 'a piece', wood, quantity },
  ...{ lengthNm: inches(length), widthNm: inches(5), thicknessNm: inches(0.75) },
})

it('serves everybody where the boards give everything, whoever asked first', () => {
  const asked = [
    { id: 'first', parts: [part('short', 20)] },
    { id: 'second', parts: [part('long', 40)] },
  ]
  expect(woodOnHand(asked, [board('a', 44), board('b', 24)], rules)).toEqual([
    { id: 'first', missing: [], boards: ['b'] },
    { id: 'second', missing: [], boards: ['a'] },
  ])
})

it('serves whoever asked first where it does not, and names the wood that others lack', () => {
  const asked = [
    { id: 'first', parts: [part('a', 40)] },
    { id: 'second', parts: [part('b', 40), part('m', 20, 1, 'maple')] },
    { id: 'third', parts: [part('c', 20)] },
  ]
  const served = woodOnHand(asked, [board('w', 68), board('m', 30, 'maple')], rules)
  expect(served.map(({ missing }) => missing)).toEqual([[], ['walnut'], []])
  expect(served.map(({ boards }) => boards)).toEqual([['w'], ['m'], ['w']])
})

it('never serves more than the boards hold, and all of it where a cutting plan finds room for all', () => {
  const lengths = fc.integer({ min: 6, max: 60 })
  fc.assert(
    fc.property(
      fc.array(fc.array(lengths, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 4 }),
      fc.array(fc.integer({ min: 10, max: 100 }), { maxLength: 4 }),
      (orders, lengthsOfBoards) => {
        const boards = lengthsOfBoards.map((length, index) => board(`b${index}`, length))
        const asked = orders.map((own, order) => ({
          id: `o${order}`,
          parts: own.map((length, index) => part(`o${order}.${index}`, length)),
        }))
        const served = woodOnHand(asked, boards, rules)
        const inches_ = (ids: readonly string[]): number =>
          asked
            .filter(({ id }) => ids.includes(id))
            .flatMap(({ parts }) => parts)
            .reduce((sum, { lengthNm }) => sum + lengthNm, 0)
        const gets = served.filter(({ missing }) => missing.length === 0).map(({ id }) => id)
        expect(inches_(gets)).toBeLessThanOrEqual(boards.reduce((sum, { lengthNm }) => sum + lengthNm, 0))
        const all = cuttingPlan(
          asked.flatMap(({ parts }) => parts),
          boards,
          rules,
          { tries: 20 },
        )
        if (all.missing.length === 0) expect(gets).toHaveLength(asked.length)
        // Whoever asked first is only left out where nothing would do.
        const first = cuttingPlan(asked[0]!.parts, boards, rules, { tries: 20 })
        expect(gets.includes('o0')).toBe(first.missing.length === 0)
      },
    ),
    { numRuns: 60 },
  )
})
