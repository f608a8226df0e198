import { expect, test } from 'vitest'
import { chanceAloneBy, PlanGuard, plan, simulate, type Plan } from '../../core/planning/index.ts'
import { PlanSearch } from '../../desk/planner/search-plan.ts'
import { generateOrderBook } from '../../benchmarks/generate-order-book.ts'
import { believedOf, uncertain } from '../core/planning/forecasts.ts'

const REPLICATIONS = 100
const budget = { placements: Infinity, schedules: 200, seconds: Infinity }

/** A book whose promises were all given with 8 chances in 10, the first plan of it, and the chance of each promise in a plan. */
function aBook(seed: number) {
  const book = uncertain(generateOrderBook(8, seed))
  const problem = { ...book, commissions: book.commissions.map((order) => ({ ...order, chanceAlone: 0.8 })) }
  const forecast = believedOf(problem, 0.9)
  const made = plan(problem)
  if (!made.ok) throw new Error('refused')
  const chances = (of: Plan): readonly number[] =>
    simulate(problem, of, { replications: REPLICATIONS, forecast }).flatMap(({ odds }, at) => {
      const { promise } = problem.commissions[at]!
      return promise === null ? [] : [chanceAloneBy(odds, promise)]
    })
  return { problem, forecast, first: made.value, chances }
}

function lookOn({ problem, first }: ReturnType<typeof aBook>, keepsPromises: (plan: Plan) => boolean) {
  const search = new PlanSearch({ problem, plan: first, refused: [] }, budget, 1, keepsPromises)
  while (search.slice() === null);
  return search.better
}

test('a better plan leaves as many promises to be kept as were expected, which what is best by its days alone does not', () => {
  const lost = [5, 10].map((seed) => {
    const book = aBook(seed)
    const guard = new PlanGuard(book.problem, book.first, book.forecast, REPLICATIONS)
    // Each promise counts up to the 8 chances in 10 that it was given with.
    const expected = (of: Plan): number => book.chances(of).reduce((sum, chance) => sum + Math.min(0.8, chance), 0)
    const before = expected(book.first)
    const weighed = lookOn(book, (each) => guard.keeps(each))
    expect(expected(weighed ?? book.first)).toBeGreaterThanOrEqual(before - 0.1 - 1e-9)
    return before - expected(lookOn(book, () => true) ?? book.first)
  })
  expect(Math.max(...lost)).toBeGreaterThan(0.15)
})

test('where what is best at last does not pass, the best that did is kept, and nothing is said to be the best', () => {
  const book = aBook(2)
  const weighed: Plan[] = []
  const search = new PlanSearch({ problem: book.problem, plan: book.first, refused: [] }, budget, 1, (each) => {
    weighed.push(each)
    return weighed.length === 1
  })
  let outcome = search.slice()
  while (outcome === null) outcome = search.slice()
  expect(weighed.length).toBeGreaterThan(1)
  expect(search.better).toBe(weighed[0])
  expect(outcome).toBe('looked')
})
