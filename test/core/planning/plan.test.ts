import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { blocksOf } from '../../../core/planning/schedule/blocks.ts'
import { compile } from '../../../core/planning/problem/compiled.ts'
import type { Plan, PlanningProblem } from '../../../core/planning/problem/model.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { plannedTimes } from '../../../core/planning/schedule/planned-times.ts'
import { Schedule } from '../../../core/planning/schedule/schedule.ts'
import { resumePlan } from '../../../core/planning/schedule/take-over.ts'
import { aLag, aShop, aStep, evenings, held, when, written } from './a-shop.ts'
import { anyShop } from './any-shop.ts'
import { faultsOf } from './validator.ts'

describe('plan from an earlier plan', () => {
  const holds = (problem: PlanningProblem, start: Plan): boolean => {
    const compiled = compile(problem)
    return resumePlan(new Schedule(compiled, blocksOf(compiled)), plannedTimes(compiled, start))
  }

  test('is that plan where it still holds, also with a milestone in the middle of what others hold', () => {
    const shop = aShop(
      [
        aStep('Show it', 0, { holds: [held('clamps', { kind: 'end' })], release: when('Tue 12:00') }),
        aStep('Glue-up', 60, { commissionId: 'other', holds: [held('clamps', { kind: 'end-of', step: 'Unclamp' })] }),
        aStep('Unclamp', 10, { commissionId: 'other' }),
      ],
      { lags: [aLag('Glue-up', 'Unclamp', 240)] },
    )
    const made = plan(shop)
    if (!made.ok) throw new Error('refused')
    expect(written(made.value.steps[0]!.start)).toBe('Tue 12:00')
    expect(holds(shop, made.value)).toBe(true)
  })

  test('is that plan also where clamps are handed on at the very minute', () => {
    const shop = aShop(
      [
        aStep('Second glue-up', 5, {
          commissionId: 'other',
          makers: ['ben'],
          holds: [held('clamps', { kind: 'end' })],
        }),
        aStep('Glue-up', 60, { makers: ['ada'], holds: [held('clamps', { kind: 'start-of', step: 'Unclamp' })] }),
        aStep('Unclamp', 10, { makers: ['ada'] }),
      ],
      {
        lags: [aLag('Glue-up', 'Unclamp', 30)],
        makers: ['ada', 'ben'].map((id) => ({ id, name: id, hours: evenings(12) })),
        commissions: [
          { id: 'order', name: 'order', promise: when('Mon 20:00'), weight: 9 },
          { id: 'other', name: 'other', promise: null, weight: 1 },
        ],
      },
    )
    const made = plan(shop)
    if (!made.ok) throw new Error('refused')
    expect(made.value.steps.map(({ start }) => written(start))).toEqual(['Mon 19:30', 'Mon 18:00', 'Mon 19:30'])
    expect(holds(shop, made.value)).toBe(true)
  })
})

describe('plan', () => {
  test('answers any shop with a plan that keeps every constraint, or with a named problem', () => {
    fc.assert(
      fc.property(anyShop(), (problem) => {
        const answer = plan(problem)
        if (!answer.ok) expect(answer.problems.length).toBeGreaterThan(0)
        fc.pre(answer.ok)
        expect(faultsOf(problem, answer.value)).toEqual([])
      }),
      { numRuns: 500 },
    )
  })
})
