import { chanceBy, type Odds } from '../quote/answers.ts'
import { courseOf } from './course.ts'
import { Draws } from './draws.ts'
import type { Forecast } from './forecast.ts'
import { asTold, type NotInThePlan } from './as-told.ts'
import { LivedPlan } from './lived.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'

export interface SimulateOptions {
  readonly forecast: Forecast
  /** 200 know a chance of 4 in 5 to within 5 points, with 95 % confidence. */
  readonly replications: number
  /** Default 1. The same seed gives every step the same luck in every plan it is in. */
  readonly seed?: number
  /** Whose dates are asked for; absent: all. */
  readonly commissions?: readonly string[]
}

export interface CommissionOdds {
  readonly commissionId: string
  readonly odds: Odds
}

/** The dates reached with uncertain minutes, waits, evenings and mishaps; in the order asked for. */
export function simulate(problem: PlanningProblem, plan: Plan, options: SimulateOptions): readonly CommissionOdds[] {
  const { replications, seed = 1, forecast, commissions } = options
  return oddsOf(problem, plan, new Draws(Math.max(1, Math.floor(replications)), seed, forecast), forecast, commissions)
}

function oddsOf(
  problem: PlanningProblem,
  plan: Plan,
  draws: Draws,
  { ordersPerWeek, lessSure }: Forecast,
  asked: readonly string[] = problem.commissions.map(({ id }) => id),
): readonly CommissionOdds[] {
  const positions = new Map(problem.commissions.map(({ id }, position) => [id, position]))
  const wanted = asked.map((id) => positions.get(id)!)
  const { done, missed } = new LivedPlan(courseOf(problem, plan), draws, wanted).through(draws.count)
  const notInThePlan = { from: problem.now, ordersPerWeek, lessSure }
  return asked.map((commissionId) => {
    const position = positions.get(commissionId)!
    const { promise } = problem.commissions[position]!
    return { commissionId, odds: summary(done[position]!, promise, missed[position]! / draws.count, notInThePlan) }
  })
}

/** @param missedWindows mean over the replications */
export function summary(
  times: Int32Array,
  promise: number | null,
  missedWindows: number,
  notInThePlan: NotInThePlan,
): Odds {
  const done = [...times.toSorted()]
  const chances: number[] = []
  for (const [at, instant] of done.entries())
    chances.push(Math.max(chances[at - 1] ?? 0, asTold((at + 1) / done.length, instant, notInThePlan)))
  const reached = (share: number): number => done[chances.findIndex((chance) => chance >= share - 1e-9)]!
  return {
    replications: done.length,
    reached50: reached(0.5),
    reached80: reached(0.8),
    reached95: reached(0.95),
    done,
    chances,
    keepsPromise: promise === null ? null : chanceBy({ done, chances }, promise),
    missedWindows,
  }
}
