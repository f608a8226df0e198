import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { improve } from '../../../core/planning/search/improve.ts'
import { compareObjectives } from '../../../core/planning/rules/measured.ts'
import type { Interval, Plan, PlanningProblem } from '../../../core/planning/problem/model.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import type { Result } from '../../../core/problems.ts'
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

const isAnyRunning = ({ steps }: PlanningProblem): boolean => steps.some(({ state }) => state.kind === 'running')

describe('a plan that goes on from another one', () => {
  test('is no worse, and has nothing that is promised done later, whatever rules make of the same shop', () => {
    fc.assert(
      fc.property(anyShop(), (problem) => {
        // Some plan that holds here: made for whoever is promised last.
        const promises = problem.commissions.flatMap(({ promise }) => promise ?? [])
        const last = Math.max(0, ...promises)
        const turned = problem.commissions.map((each) =>
          each.promise === null ? each : { ...each, promise: shopNow + (last - each.promise) },
        )
        const start = plan({ ...problem, commissions: turned })
        fc.pre(start.ok)
        const going = plan(problem, { start: start.value, schedules: 1 })
        const made = plan(problem, { start: start.value, schedules: 4 })
        fc.pre(going.ok && made.ok)
        expect(faultsOf(problem, made.value)).toEqual([])
        expect(compareObjectives(made.value.objective, going.value.objective)).toBeLessThanOrEqual(0)
        problem.commissions.forEach(({ promise }, at) => {
          const done = ({ commissions }: Plan): number => commissions[at]!.doneAt
          if (promise !== null) expect(done(made.value)).toBeLessThanOrEqual(done(going.value))
        })
      }),
      { numRuns: 200 },
    )
  }, 120_000)
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
