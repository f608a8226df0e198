import { expect, test } from 'vitest'
import { plan, simulate, type Plan } from '../../../core/planning/index.ts'
import { withNewWork } from '../../../core/planning/problem/new-work.ts'
import { doneAt, heldBack } from '../../../core/planning/quote/fitted-in.ts'
import { FittingIn } from '../../../core/planning/quote/fitting.ts'
import { Guard } from '../../../core/planning/quote/guard.ts'
import { generateNewWork, generateOrderBook } from '../../../benchmarks/generate-order-book.ts'
import { believedOf } from './forecasts.ts'

const RUNS = 60
/** What two replications are of all. */
const HARDLY = 2 / RUNS

/** A book whose promises may lose nothing, new work for it, and what each plan with it costs the promise that fares worst. */
function aFullBook(seed: number) {
  const book = generateOrderBook(3, seed)
  const forecast = believedOf(book, 0.9)
  const first = plan(book)
  if (!first.ok) throw new Error('refused')
  const odds = simulate(book, first.value, { replications: RUNS, forecast })
  const shop = {
    ...book,
    commissions: book.commissions.map((each, at) => ({ ...each, promise: odds[at]!.odds.reached95, chanceAlone: 1 })),
  }
  const asked = generateNewWork(seed + 1)
  // Little enough that it costs others little wherever it stands.
  const newWork = {
    ...asked,
    steps: asked.steps.map(({ timing: _, ...step }) => ({ ...step, minutes: Math.ceil(step.minutes / 6) })),
  }
  const { id } = newWork.commission
  const current = plan(shop)
  const joined = withNewWork(shop, newWork)
  if (!current.ok) throw new Error('refused')
  const fitted = new FittingIn(joined, id, current.value).offers()
  const made = fitted.ok ? fitted.value.keeps : null
  const guard = new Guard(shop, current.value, id, { forecast, replications: RUNS, seed: 1 })
  const behindAll = heldBack(
    joined,
    id,
    current.value,
    Math.max(...current.value.commissions.map((each) => each.doneAt)),
  )
  const cost = (of: Plan): number =>
    Math.max(...guard.weigh(joined, of).others.map(({ before, after }) => before - after))
  return { guard, joined, current: current.value, made, behindAll, cost, done: (of: Plan) => doneAt(of, id) }
}

test('where every date costs somebody, the soonest of those is offered that cost hardly more than the one that costs least', () => {
  const seen = { soonerThoughItCostsMore: 0, behindAll: 0 }
  for (let seed = 1; seed <= 25; seed++) {
    const { guard, joined, current, made, behindAll, cost, done } = aFullBook(seed)
    if (made === null || behindAll === null) continue
    const offered = guard.soonestThatPasses(joined, current, made)
    if (guard.weigh(joined, offered).keepsPromises) continue
    const [atOnce, atLast] = [cost(made), cost(behindAll)]
    const isHardlyMore = atOnce <= atLast + HARDLY + 1e-9
    expect(done(offered)).toBe(done(isHardlyMore ? made : behindAll))
    if (isHardlyMore && atOnce > atLast) seen.soonerThoughItCostsMore += 1
    if (!isHardlyMore) seen.behindAll += 1
  }
  expect(seen.soonerThoughItCostsMore).toBeGreaterThan(0)
  expect(seen.behindAll).toBeGreaterThan(0)
})
