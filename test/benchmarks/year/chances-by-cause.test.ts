import { expect, it } from 'vitest'
import { FIRST_JUDGED_DAY } from '../../../benchmarks/year/calendar.ts'
import type { Outcome } from '../../../benchmarks/year/lived.ts'
import { CAUSES, ChancesFollowed } from '../../../benchmarks/year/measures/chances-by-cause.ts'
import { plan } from '../../../core/planning/index.ts'
import { aShop, aStep, when } from '../../core/planning/a-shop.ts'
import { believedOf } from '../../core/planning/forecasts.ts'

const now = FIRST_JUDGED_DAY * 1440
/** Two evenings of work. */
const shopDue = (due: number, more = 0) =>
  aShop(
    [...'abcd'].slice(0, 2 + more).map((id) => aStep(id, 170)),
    {
      commissions: [{ id: 'order', name: 'Order', promise: due, weight: 1 }],
    },
  )

it('what a chance changed by adds up to what came true, cause by cause', () => {
  const followed = new ChancesFollowed()
  const due = when('Fri 12:00')
  const look = (cause: (typeof CAUSES)[number], more: number): void => {
    const problem = shopDue(due, more)
    const made = plan(problem)
    if (!made.ok) throw new Error('refused')
    followed.watch(cause, { now, problem, plan: made.value, forecast: believedOf(problem, 0.9) })
  }
  look('orders', 0)
  look('evenings', 0)
  look('orders', 2)
  look('plans', 1)
  const outcome: Outcome = {
    ...{ id: 'customer', askedAt: now, handsOnMin: 340, stayed: true, doneAt: due - 60 },
    promised: {
      at: now,
      dueAt: due,
      stated: 0.8,
      alone: null,
      days: [due, due, due],
      daysStated: [0.8, 0.8, 0.8],
      plannedAt: due,
      pushed: null,
    },
  }
  const { promises, stated, kept, first, changedBy, atLast } = followed.summary([outcome], () => 'order')
  expect([promises, stated, kept]).toEqual([1, 0.8, 1])
  expect(first + CAUSES.reduce((sum, cause) => sum + changedBy[cause], 0) + atLast).toBeCloseTo(kept, 12)
  // Twice the work that nobody counted on costs chance, and half of it less.
  expect(changedBy.orders).toBeLessThan(-0.3)
  expect(changedBy.plans).toBeGreaterThan(0)
  expect(changedBy.evenings).toBe(0)
})

it('promises that nobody followed are left out', () => {
  expect(new ChancesFollowed().summary([], () => undefined).promises).toBe(0)
})
