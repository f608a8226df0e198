import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { generateNewWork, generateOrderBook } from '../../../benchmarks/generate-order-book.ts'
import type { Plan, PlanningProblem } from '../../../core/planning/problem/model.ts'
import { withNewWork } from '../../../core/planning/problem/new-work.ts'
import { aimOf, PATIENCE_MIN } from '../../../core/planning/quote/aim.ts'
import { fittedIn } from '../../../core/planning/quote/fitted-in.ts'
import { quote } from '../../../core/planning/quote/quote.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { whatWouldHelpPromise } from '../../../core/planning/reasons/help-promise.ts'
import { simulate } from '../../../core/planning/odds/simulate.ts'
import { aShop, aStep, DAY, when } from './a-shop.ts'
import { believedOf, uncertain } from './forecasts.ts'
import { faultsOf } from './validator.ts'

const must = (answer: ReturnType<typeof plan>): Plan => {
  if (!answer.ok) throw new Error(answer.problems[0]?.message)
  return answer.value
}
const doneAt = (made: Plan, id: string): number => made.commissions.find((each) => each.id === id)!.doneAt

describe('nobody is left behind', () => {
  /** Twelve evenings of work that was promised for last Wednesday, and every evening another short order that is due. */
  const behind = aStep('behind', 12 * 60, { commissionId: 'behind', interruptible: true })
  const short = Array.from({ length: 14 }, (_, index) => `short ${index}`)
  const shop = aShop([behind, ...short.map((id) => aStep(id, 150, { commissionId: id }))], {
    commissions: [
      { id: 'behind', name: 'Behind', promise: when('Mon 0:00') - 5 * DAY, weight: 1 },
      ...short.map((id, index) => ({ id, name: id, promise: when('Tue 0:00') + index * DAY, weight: 1 })),
    ],
  })
  const laterPromises = (problem: PlanningProblem): number => {
    const made = must(plan(problem, { schedules: 400 }))
    return short.filter((id) => doneAt(made, id) < doneAt(made, 'behind')).length
  }

  test('an order that is five days late and long is done before most of those promised later', () => {
    // By the minute alone the long one would come last of all that is due meanwhile.
    expect(laterPromises(shop)).toBeGreaterThanOrEqual(12)
    expect(laterPromises({ ...shop, patienceMin: PATIENCE_MIN })).toBeLessThanOrEqual(3)
  })
})

describe('what is aimed at', () => {
  const anyPromise = fc.record({
    promise: fc.integer({ min: 10_000, max: 100_000 }),
    givenAt: fc.integer({ min: 0, max: 9_000 }),
    fourInFive: fc.option(fc.integer({ min: 0, max: 120_000 })),
    planned: fc.option(fc.integer({ min: 0, max: 120_000 })),
  })

  test('is never later than the promise, comes nearer to it as time passes, and is the promise at last', () => {
    fc.assert(
      fc.property(anyPromise, fc.nat(100_000), fc.nat(50_000), (given, now, more) => {
        const aim = aimOf(given, now)
        expect(aim).toBeLessThanOrEqual(given.promise)
        expect(aimOf(given, now + more)).toBeGreaterThanOrEqual(aim)
        expect(aimOf(given, given.promise)).toBe(given.promise)
      }),
    )
  })

  test('keeps half of what lies between the plan and the day of 4 in 5 from the planner', () => {
    const given = { promise: 30 * DAY, givenAt: 0, fourInFive: 30 * DAY, planned: 20 * DAY }
    expect(aimOf(given, 0)).toBe(25 * DAY)
    expect(aimOf(given, 15 * DAY)).toBe(27.5 * DAY)
  })
})

describe('an order that is taken', () => {
  test('is planned for when its guarded quote had it done, and no promise gets less sure than the quote left it', () => {
    const base = uncertain(generateOrderBook(4, 6))
    const forecast = believedOf(base, 0.9)
    const options = { replications: 60, forecast }
    const sure = new Map(simulate(base, must(plan(base)), options).map((each) => [each.commissionId, each.odds]))
    const shop = {
      ...base,
      commissions: base.commissions.map((each) => {
        const { reached80 } = sure.get(each.id)!
        return { ...each, promise: reached80, chanceAlone: 0.8 }
      }),
    }
    const current = must(plan(shop))
    const asked = uncertain({ ...shop, ...generateNewWork(8), commissions: [] })
    const newWork = { ...generateNewWork(8), steps: asked.steps }
    const answer = quote(shop, newWork, { current, odds: options })
    if (!answer.ok) throw new Error(answer.problems[0]?.message)
    const [offer] = answer.value.offers
    expect(offer!.kind.kind).toBe('keeps-every-promise')

    const promise = offer!.odds!.reached80
    const commission = { ...newWork.commission, promise, quotedFor: offer!.doneAt }
    const taken = withNewWork(shop, { ...newWork, commission })
    const made = fittedIn(taken, commission.id, current, { schedules: 20, seed: 1 })!
    expect(faultsOf(taken, made)).toEqual([])
    expect(doneAt(made, commission.id)).toBeLessThanOrEqual(offer!.doneAt)
    // As late as the quote had it, to within a day: what lies before stays free for others.
    expect(offer!.doneAt - doneAt(made, commission.id)).toBeLessThanOrEqual(2 * DAY)
  })
})

describe('what would help a promise', () => {
  const forecast = believedOf(aShop([]), 0.9)
  /** Five evenings of work for a promise that lies six evenings ahead, most of them behind somebody else's work. */
  const shop = uncertain(
    aShop(
      [...'abcde'].map((id) => aStep(id, 170)),
      {
        commissions: [{ id: 'order', name: 'Order', promise: when('Sat+0 12:00'), weight: 1 }],
      },
    ),
  )

  test('is more hours or another hand, each with the chance that it makes, what helps most first', () => {
    const made = must(plan(shop))
    const options = { forecast, replications: 200 }
    const [{ odds } = { odds: null }] = simulate(shop, made, options)
    const helps = whatWouldHelpPromise(shop, made, 'order', options)
    expect(helps.map(({ addition }) => addition.kind)).toContain('hand')
    for (const { chance } of helps) expect(chance).toBeGreaterThanOrEqual(odds!.keepsPromise! + 0.1 - 1e-9)
    expect(helps.map(({ chance }) => chance)).toEqual(helps.map(({ chance }) => chance).toSorted((a, b) => b - a))
  })

  test('is nothing where the promise is sure, or nothing was promised', () => {
    const sure = { ...shop, commissions: [{ ...shop.commissions[0]!, promise: when('Sat+6 12:00') }] }
    const open = { ...shop, commissions: [{ ...shop.commissions[0]!, promise: null }] }
    for (const each of [sure, open])
      expect(whatWouldHelpPromise(each, must(plan(each)), 'order', { forecast, replications: 50 })).toEqual([])
  })
})
