import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { plan } from '../../../core/planning/plan.ts'
import { anyShop } from './any-shop.ts'
import { faultsOf } from './validator.ts'

describe('plan', () => {
  test('answers any shop with a plan that keeps every constraint, or with a named problem', () => {
    let planned = 0
    fc.assert(
      fc.property(anyShop(), (problem) => {
        const answer = plan(problem)
        if (!answer.ok) {
          expect(answer.problems.length).toBeGreaterThan(0)
          return
        }
        planned += 1
        expect(faultsOf(problem, answer.value)).toEqual([])
      }),
      { numRuns: 1000 },
    )
    expect(planned).toBeGreaterThan(300)
  }, 120_000)
})
