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

test('work of an order that the plan has late goes before work that can wait, but before no coat and no near one', () => {
  const ids = ['Coat, far', 'Near', 'Far', 'Not promised', 'Late']
  const commissions = [
    { id: 'far', name: 'Far', promise: when('Fri+3 0:00'), weight: 1 },
    { id: 'near', name: 'Near', promise: when('Wed 0:00'), weight: 1 },
    { id: 'late', name: 'Late', promise: when('Tue 0:00'), weight: 1 },
    { id: 'open', name: 'Open', promise: null, weight: 1 },
  ]
  const of = { 'Coat, far': 'far', Near: 'near', Far: 'far', 'Not promised': 'open', Late: 'late' }
  const steps = Object.entries(of).map(([id, commissionId]) => aStep(id, 20, { commissionId }))
  const lags = [{ from: 'Coat, far', to: 'Far', minMin: 60, maxMin: null, wait: 'drying' as const, name: 'drying' }]
  const listed = (dryingFrom: string): string[] => {
    const shop = aShop(steps, { commissions, lags: lags.map((lag) => ({ ...lag, from: dryingFrom })) })
    const made = plan(aShop(steps, { commissions }))
    if (!made.ok) throw new Error('refused')
    const known = new Map(made.value.steps.map((step) => [step.id, step]))
    const start = (at: number): number => when('Mon 18:00') + 20 * at
    const planned = ids.map((id, at) => ({ ...known.get(id)!, start: start(at), end: start(at) + 20 }))
    const ends = { far: 'Thu 0:00', near: 'Tue 12:00', late: 'Tue 21:00', open: 'Sat 0:00' }
    const done = Object.entries(ends).map(([id, at]) => ({ id, doneAt: when(at), lateMin: 0 }))
    const session = { from: when('Mon 18:00'), to: when('Mon 21:00') }
    return benchList(shop, { ...made.value, steps: planned, commissions: done }, session)
  }
  expect(listed('Coat, far')).toEqual(['Coat, far', 'Near', 'Late', 'Far', 'Not promised'])
  expect(listed('Far')).toEqual(['Coat, far', 'Near', 'Far', 'Late', 'Not promised'])
})

test('the list names every step to do once, those of this session first but for dusty work, and each order’s in the order of the plan', () => {
  fc.assert(
    fc.property(anyShop({ commissions: 4, steps: 5, reality: true }), (problem) => {
      const made = plan(problem)
      fc.pre(made.ok)
      const session = { from: problem.now, to: problem.now + 1440 }
      const list = benchList(problem, made.value, session)
      const toDo = problem.steps.filter(({ state }) => state.kind === 'to-do')
      expect([...list].sort()).toEqual(toDo.map(({ id }) => id).sort())
      const startOf = new Map(made.value.steps.map(({ id, start }) => [id, start]))
      const now = list.filter((id) => startOf.get(id)! < session.to)
      // Only dusty work may come between, before a coat: dust-before-finish.test.ts has more of that.
      const between = list.slice(0, list.indexOf(now.at(-1) ?? '') + 1).filter((id) => !now.includes(id))
      expect(between.filter((id) => toDo.find((step) => step.id === id)?.dusty !== true)).toEqual([])
      if (between.length > 0) return
      const orderOf = new Map(toDo.map(({ id, commissionId }) => [id, commissionId]))
      for (const ofOrder of Map.groupBy(now, (id) => orderOf.get(id)).values()) {
        const starts = ofOrder.map((id) => startOf.get(id)!)
        expect(starts).toEqual(starts.toSorted((a, b) => a - b))
      }
    }),
    { numRuns: 100 },
  )
})
