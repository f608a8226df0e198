import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { randomStream } from '../../../core/chance/seeded-random.ts'
import { compile } from '../../../core/planning/problem/compiled.ts'
import type { PlanningProblem } from '../../../core/planning/problem/model.ts'
import { blocksOf } from '../../../core/planning/schedule/blocks.ts'
import { Arrangements } from '../../../core/planning/search/arrangements.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { aLag, aShop, aStep } from './a-shop.ts'
import { anyShop } from './any-shop.ts'

/** Pairs of steps of one block, the first of which comes first in its order and has to. */
function heldPairs(problem: PlanningProblem, steps: readonly (readonly number[])[]): string[] {
  const compiled = compile(problem)
  const pairs: string[] = []
  for (const block of steps)
    for (const [position, step] of block.entries())
      for (const later of block.slice(position + 1))
        for (let lag = 0; lag < compiled.lagCount; lag++)
          if (compiled.lagFrom[lag] === step && compiled.lagTo[lag] === later && compiled.lagMin[lag]! >= 0)
            pairs.push(`${step} before ${later}`)
  return pairs.sort()
}

describe('orders in which steps that are tied together are placed', () => {
  test('a change keeps every step and every wait between two of them, and can be taken back', () => {
    let changed = 0
    fc.assert(
      fc.property(anyShop(), fc.nat(), (problem, seed) => {
        const compiled = compile(problem)
        const blocks = blocksOf(compiled)
        const arrangements = new Arrangements(compiled, blocks, randomStream(seed))
        if (arrangements.isEmpty) return
        for (let turn = 0; turn < 5; turn++) {
          const before = blocks.steps.map((steps) => [...steps])
          const { block, takeBack } = arrangements.change()
          const after = blocks.steps.map((steps) => [...steps])
          expect(after.map((steps) => steps.toSorted())).toEqual(before.map((steps) => steps.toSorted()))
          expect(heldPairs(problem, after)).toEqual(expect.arrayContaining(heldPairs(problem, before)))
          if (after[block]!.join() !== before[block]!.join()) changed += 1
          if (turn % 2 === 0) continue
          takeBack()
          expect(blocks.steps).toEqual(before)
        }
      }),
    )
    expect(changed).toBeGreaterThan(0)
  })

  test('the search finds that what has a long wait behind it goes first, though both have to follow soon', () => {
    const first = aShop([])
    const makers = ['one', 'two'].map((id) => ({
      id,
      name: id,
      hours: [{ from: first.now, to: first.now + 1_000_000 }],
    }))
    const other = Array.from({ length: 12 }, (_, index) =>
      aStep(`other ${index}`, 10, { commissionId: 'other', makers: ['two'] }),
    )
    const problem = aShop(
      [
        aStep('spread', 10, { makers: ['one'] }),
        aStep('short', 10, { makers: ['one'] }),
        aStep('long', 120, { makers: ['one'] }),
        aStep('last', 10, { makers: ['one'] }),
        ...other,
      ],
      {
        makers,
        lags: [aLag('spread', 'short', 0, 600), aLag('spread', 'long', 0, 600), aLag('short', 'last', 300, 2_000)],
        commissions: ['order', 'other'].map((id) => ({ id, name: id, promise: null, weight: 1 })),
      },
    )
    const found = plan(problem, { schedules: 200 })
    if (!found.ok) throw new Error('refused')
    const at = (id: string) => found.value.steps.find((step) => step.id === id)!.start - problem.now
    expect([at('spread'), at('short'), at('long'), at('last')]).toEqual([0, 10, 20, 320])
  })
})
