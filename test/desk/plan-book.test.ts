import { expect, test } from 'vitest'
import { plan, type Plan, type PlanningProblem } from '../../core/planning/index.ts'
import { planBook, planOfStarts, withoutCommissions } from '../../desk/planner/plan-book.ts'
import { aShop, aStep, when, written } from '../core/planning/a-shop.ts'

/** A far order of three evenings, and two near ones of one evening each. */
const shop: PlanningProblem = aShop(
  [
    ...[1, 2, 3].map((evening) => aStep(`far ${evening}`, 170, { commissionId: 'far' })),
    ...['near', 'nearer'].map((id) => aStep(id, 170, { commissionId: id })),
  ],
  {
    now: when('Mon 18:00'),
    commissions: [
      { id: 'far', name: 'Far', promise: when('Mon+3 0:00'), weight: 1 },
      { id: 'near', name: 'Near', promise: when('Thu 0:00'), weight: 1 },
      { id: 'nearer', name: 'Nearer', promise: when('Wed 0:00'), weight: 1 },
    ],
  },
)
const farAlone = withoutCommissions(shop, new Set(['near', 'nearer']))
const valueOf = (made: ReturnType<typeof planBook>): Plan => {
  if (!made.ok) throw new Error(made.problems[0]?.message)
  return made.value.plan
}
const starts = ({ steps }: Plan): Record<string, string> =>
  Object.fromEntries(steps.map(({ id, start }) => [id, written(start)]))

test('what comes into the book without having been offered is planned by its promises, not behind all that was there', () => {
  const made = starts(valueOf(planBook(shop, valueOf(planBook(farAlone)))))
  expect([made['nearer'], made['near']]).toEqual(['Mon 18:00', 'Tue 18:00'])
})

test('where nothing is new the plan before stands, also as it was written down', () => {
  const turned = shop.commissions.map((each) => ({
    ...each,
    promise: when(each.id === 'far' ? 'Thu 0:00' : 'Mon+3 0:00'),
  }))
  const before = plan({ ...shop, commissions: turned }, { schedules: 20 })
  if (!before.ok) throw new Error(before.problems[0]?.message)
  const goesOn = starts(valueOf(planBook(shop, before.value)))
  expect(goesOn).toEqual(starts(before.value))
  const lastPlanned = before.value.steps.map(({ id, start }) => ({ step: id, start }))
  expect(starts(valueOf(planBook(shop, planOfStarts(lastPlanned))))).toEqual(goesOn)
  // Rules would have it otherwise.
  expect(starts(valueOf(planBook(shop, before.value, 'freely')))).not.toEqual(goesOn)
})
