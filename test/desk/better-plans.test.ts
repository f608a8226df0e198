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

test('a better plan takes no promise below what it was given with or has fallen to, as what is best by its days alone does', () => {
  const falls = [2, 4].map((seed) => {
    const book = aBook(seed)
    const guard = new PlanGuard(book.problem, book.first, book.forecast, REPLICATIONS)
    const before = book.chances(book.first)
    const weighed = lookOn(book, (each) => guard.keeps(each))
    // 0.8 less two points, or what there was less one replication.
    for (const [at, chance] of book.chances(weighed ?? book.first).entries())
      expect(chance).toBeGreaterThanOrEqual(Math.min(0.78, before[at]! - 0.01) - 1e-9)
    const byDays = lookOn(book, () => true)
    return Math.max(0, ...book.chances(byDays ?? book.first).map((chance, at) => Math.min(0.78, before[at]!) - chance))
  })
  expect(Math.max(...falls)).toBeGreaterThan(0.1)
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
