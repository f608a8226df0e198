import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { improve } from '../../../core/planning/search/improve.ts'
import { compareObjectives } from '../../../core/planning/rules/measured.ts'
import type { Interval, Plan, PlanningProblem } from '../../../core/planning/problem/model.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import type { Result } from '../../../core/problems.ts'
import { aShop, aStep, DAY, when, written } from './a-shop.ts'
import { anyShop, shopNow } from './any-shop.ts'
import { leastTardiness, smallShop } from './every-order.ts'
import { anySenselessShop } from './senseless-shop.ts'
import { faultsOf } from './validator.ts'

/** The last plan of a search, every one on the way checked. */
function improved(
  problem: PlanningProblem,
  options: { readonly schedules: number; readonly seed?: number; readonly start?: Plan },
  check: (made: Plan) => void = () => undefined,
): Result<Plan> {
  const search = improve(problem, options)
  for (;;) {
    const next = search.next()
    if (next.done === true) {
      if (next.value.ok) check(next.value.value)
      return next.value
    }
    check(next.value.plan)
  }
}

const withMoreHours = (problem: PlanningProblem, hours: Interval): PlanningProblem => ({
  ...problem,
  makers: problem.makers.map((maker, index) =>
    index === 0 ? { ...maker, hours: [...maker.hours, hours].sort((a, b) => a.from - b.from) } : maker,
  ),
})

const isOpen = ({ makers }: PlanningProblem, { from, to }: Interval): boolean =>
  makers[0]!.hours.some((hours) => hours.from <= to && from <= hours.to)

const valueOf = <T>(made: Result<T>): T => {
  if (!made.ok) throw new Error(made.problems[0]?.message)
  return made.value
}

const isAnyRunning = ({ steps }: PlanningProblem): boolean => steps.some(({ state }) => state.kind === 'running')

describe('a plan that goes on from another one', () => {
  test('holds, and stands where it is gone on from once more', () => {
    fc.assert(
      fc.property(anyShop(), (problem) => {
        // Some plan that holds here: made for whoever is promised last.
        const last = Math.max(0, ...problem.commissions.flatMap(({ promise }) => promise ?? []))
        const turned = problem.commissions.map((each) =>
          each.promise === null ? each : { ...each, promise: shopNow + (last - each.promise) },
        )
        const start = plan({ ...problem, commissions: turned })
        fc.pre(start.ok)
        const made = plan(problem, { start: start.value, schedules: 1 })
        fc.pre(made.ok)
        expect(faultsOf(problem, made.value)).toEqual([])
        const again = plan(problem, { start: made.value, schedules: 1 })
        expect(again.ok && compareObjectives(again.value.objective, made.value.objective)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 200 },
    )
  }, 120_000)

  test('keeps its order whatever rules would make of it, with no gap that is not needed', () => {
    const shop = aShop(
      ['far', 'near'].map((id) => aStep(id, 60, { commissionId: id })),
      {
        now: when('Mon 18:00'),
        commissions: [
          { id: 'far', name: 'Far', promise: when('Mon+5 0:00'), weight: 1 },
          { id: 'near', name: 'Near', promise: when('Tue 0:00'), weight: 1 },
        ],
      },
    )
    const rules = plan(shop)
    const startOf = (made: Result<Plan>, id: string): string =>
      written(valueOf(made).steps.find((step) => step.id === id)!.start)
    expect([startOf(rules, 'near'), startOf(rules, 'far')]).toEqual(['Mon 18:00', 'Mon 19:00'])
    // A plan of a week in which nobody came before Wednesday, the far one first.
    const steps = shop.steps.map(({ id }, at) => ({
      ...{ id, start: when('Wed 18:00') + at * DAY, end: when('Wed 19:00') + at * DAY },
      ...{ stretches: [], makers: [], setUpMin: 0, remedyMin: 0 },
    }))
    const gone = plan(shop, { start: { ...valueOf(rules), steps }, schedules: 1 })
    expect([startOf(gone, 'far'), startOf(gone, 'near')]).toEqual(['Mon 18:00', 'Mon 19:00'])
  })
})

describe('a shop with more in it', () => {
  test('plans no worse with one more unit of a station, when it starts from the plan without', () => {
    fc.assert(
      fc.property(anyShop(), fc.nat(2), (problem, which) => {
        const before = plan(problem)
        fc.pre(before.ok)
        const more = {
          ...problem,
          stations: problem.stations.map((station, index) =>
            index === which % problem.stations.length ? { ...station, capacity: station.capacity + 1 } : station,
          ),
        }
        const after = plan(more, { start: before.value, schedules: 1 })
        expect(after.ok && compareObjectives(after.value.objective, before.value.objective)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 200 },
    )
  })

  // With an hour put into the middle of paused work, or of work in progress, the old plan is none any more: it would go on then.
  test('plans no worse with another hour of its own, when it starts from the plan without and no work is paused', () => {
    fc.assert(
      fc.property(anyShop(), fc.nat(14 * 24), (shop, hour) => {
        const problem = { ...shop, steps: shop.steps.map((step) => ({ ...step, interruptible: false })) }
        const hours = { from: shopNow + hour * 60, to: shopNow + hour * 60 + 60 }
        const before = plan(problem)
        fc.pre(before.ok && !isOpen(problem, hours) && !isAnyRunning(problem))
        const after = plan(withMoreHours(problem, hours), { start: before.value, schedules: 1 })
        expect(after.ok && compareObjectives(after.value.objective, before.value.objective)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 200 },
    )
  })
})

describe('improve', () => {
  test('is never worse than its start, keeps every constraint, and says the same for the same seed', () => {
    fc.assert(
      fc.property(anyShop({ commissions: 4, steps: 7, reality: true }), fc.nat(1000), (problem, seed) => {
        const start = plan(problem, { schedules: 1 })
        fc.pre(start.ok)
        const options = { schedules: 20, seed, start: start.value }
        const once = improved(problem, options, (made) => {
          expect(compareObjectives(made.objective, start.value.objective)).toBeLessThanOrEqual(0)
          expect(faultsOf(problem, made)).toEqual([])
        })
        expect(improved(problem, options)).toEqual(once)
      }),
      { numRuns: 50 },
    )
  })
})

describe('a senseless shop', () => {
  test('is refused with what is wrong and where, or planned with every constraint kept', () => {
    fc.assert(
      fc.property(anySenselessShop(), (problem) => {
        const answers = [plan(problem), improved(problem, { schedules: 5 })]
        for (const answer of answers) {
          if (answer.ok) {
            expect(faultsOf(problem, answer.value)).toEqual([])
            continue
          }
          expect(answer.problems.length).toBeGreaterThan(0)
          for (const { message, field } of answer.problems) {
            expect(message).toMatch(/^.{20,}\.$/su)
            expect(field).toMatch(/^(now|makers|(steps|stations|makers|clocks|commissions)\..+)$/u)
          }
        }
        // Only what was refused counts as tried.
        fc.pre(answers.some(({ ok }) => !ok))
      }),
      { numRuns: 400 },
    )
  })
})

describe('complete search', () => {
  test('finds the least tardiness of all orders, and a plan by rules never less', () => {
    fc.assert(
      fc.property(smallShop(), (problem) => {
        const least = leastTardiness(problem)
        const searched = improved(problem, { schedules: 30 })
        const found = (made: ReturnType<typeof plan>): number => (made.ok ? made.value.objective.weightedTardiness : -1)
        expect(found(searched) / Math.max(1, least)).toBeCloseTo(least / Math.max(1, least), 9)
        expect(found(plan(problem))).toBeGreaterThanOrEqual(least * (1 - 1e-9))
      }),
      { numRuns: 300 },
    )
  })
})
