import { expect, test } from 'vitest'
import type { Plan, PlanningProblem } from '../../../core/planning/problem/model.ts'
import { PlanGuard } from '../../../core/planning/quote/plan-guard.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { aShop, aStep, DAY, monday, when } from './a-shop.ts'
import { certain } from './forecasts.ts'

const EVENINGS = 3

/** An order whose promise is over, beside one whose promise holds only if it is done first; each keeps the shop busy for three evenings. */
function shopWith(daysOver: number): PlanningProblem {
  const steps = ['late', 'near'].flatMap((commissionId) =>
    Array.from({ length: EVENINGS }, (_, at) => aStep(`${commissionId} ${at}`, 120, { commissionId })),
  )
  return aShop(steps, {
    now: when('Mon 18:00'),
    commissions: [
      { id: 'late', name: 'Late', promise: monday - daysOver * DAY, weight: 1, chanceAlone: 0.8 },
      { id: 'near', name: 'Near', promise: when('Thu 0:00'), weight: 1, chanceAlone: 0.8 },
    ],
  })
}

/** The plan in which this order is done first. */
function first(shop: PlanningProblem, id: string): Plan {
  const commissions = shop.commissions.map((each) => ({
    ...each,
    promise: each.id === id ? monday : when('Mon+8 0:00'),
  }))
  const made = plan({ ...shop, commissions }, { schedules: 20 })
  if (!made.ok) throw new Error(made.problems[0]?.message)
  const doneAt = new Map(made.value.commissions.map((each) => [each.id, each.doneAt]))
  const other = id === 'late' ? 'near' : 'late'
  expect(doneAt.get(id)).toBeLessThan(doneAt.get(other)!)
  return made.value
}

/** Whether a plan that has one of them first may take the place of one that has the other first. */
function mayTakeThePlace(shop: PlanningProblem, of: string, by: string): boolean {
  return new PlanGuard(shop, first(shop, of), certain, 4).keeps(first(shop, by))
}

test('what is well over a week late may go before what would be on time, which else would put it off for good', () => {
  const shop = shopWith(12)
  expect(mayTakeThePlace(shop, 'near', 'late')).toBe(true)
  expect(mayTakeThePlace(shop, 'late', 'near')).toBe(false)
})

test('what is a few days late may not', () => {
  const shop = shopWith(0)
  expect(mayTakeThePlace(shop, 'near', 'late')).toBe(false)
  expect(mayTakeThePlace(shop, 'late', 'near')).toBe(true)
})
