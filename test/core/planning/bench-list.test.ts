import fc from 'fast-check'
import { expect, test } from 'vitest'
import { plan } from '../../../core/planning/search/plan.ts'
import { benchList } from '../../../core/planning/reasons/bench-list.ts'
import { aShop, aStep, when } from './a-shop.ts'
import { anyShop } from './any-shop.ts'

test('what is planned for this session comes first, then work of the order that is promised soonest', () => {
  const shop = aShop(
    [
      aStep('Far', 120, { commissionId: 'far' }),
      aStep('Near, Wednesday', 60, { commissionId: 'near', release: when('Wed 0:00') }),
      aStep('Far, Tuesday', 60, { commissionId: 'far', release: when('Tue 0:00') }),
      aStep('Unpromised, Tuesday', 30, { commissionId: 'open', release: when('Tue 0:00') }),
    ],
    {
      commissions: [
        { id: 'far', name: 'Far', promise: when('Fri+3 0:00'), weight: 1 },
        { id: 'near', name: 'Near', promise: when('Fri 0:00'), weight: 1 },
        { id: 'open', name: 'Open', promise: null, weight: 1 },
      ],
    },
  )
  const made = plan(shop)
  if (!made.ok) throw new Error('refused')
  const session = { from: when('Mon 18:00'), to: when('Mon 21:00') }
  expect(benchList(shop, made.value, session)).toEqual([
    'Far',
    'Near, Wednesday',
    'Far, Tuesday',
    'Unpromised, Tuesday',
  ])
})

test('the list names every step to do once, and those of this session in the order of the plan', () => {
  fc.assert(
    fc.property(anyShop({ commissions: 4, steps: 5, reality: true }), (problem) => {
      const made = plan(problem)
      fc.pre(made.ok)
      const session = { from: problem.now, to: problem.now + 1440 }
      const list = benchList(problem, made.value, session)
      const toDo = problem.steps.filter(({ state }) => state.kind === 'to-do').map(({ id }) => id)
      expect([...list].sort()).toEqual([...toDo].sort())
      const startOf = new Map(made.value.steps.map(({ id, start }) => [id, start]))
      const now = list.filter((id) => startOf.get(id)! < session.to)
      expect(list.slice(0, now.length)).toEqual(now)
      const starts = now.map((id) => startOf.get(id)!)
      expect(starts).toEqual(starts.toSorted((a, b) => a - b))
    }),
    { numRuns: 100 },
  )
})
