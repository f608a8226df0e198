import type { Forecast } from '../odds/forecast.ts'
import { simulate } from '../odds/simulate.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { anotherHand, likelyAdditions, withAddition } from '../quote/additions.ts'
import type { Addition } from '../quote/answers.ts'
import { plannedWith } from './help.ts'
import { bindingChain } from './why.ts'

/** An addition to the shop, and the chance that the promise has with it, 0..1. */
export interface PromiseHelp {
  readonly addition: Addition
  readonly chance: number
}

/** What makes a promise surer by less is not worth telling. */
const LEAST_GAIN = 0.1
const MOST_TOLD = 2

/**
 * What would make a promise surer, what helps most first: hours, stations and warmth by what decides its date, a second pair of hands, and
 * what the caller adds; each planned anew and lived through with the same luck. Empty where nothing is promised, or nothing helps by a tenth.
 */
export function whatWouldHelpPromise(
  problem: PlanningProblem,
  made: Plan,
  commissionId: string,
  {
    forecast,
    replications,
    more = [],
  }: { readonly forecast: Forecast; readonly replications: number; readonly more?: readonly Addition[] },
): readonly PromiseHelp[] {
  const chanceIn = (shop: PlanningProblem, planned: Plan): number =>
    simulate(shop, planned, { forecast, replications, commissions: [commissionId] })[0]?.odds.keepsPromise ?? 1
  const before = chanceIn(problem, made)
  const hand = anotherHand(problem)
  const additions = [
    ...likelyAdditions(problem, bindingChain(problem, made, commissionId)),
    ...(hand === null ? [] : [hand]),
    ...more,
  ]
  return additions
    .flatMap((addition): PromiseHelp[] => {
      const shop = withAddition(problem, addition)
      const planned = plannedWith(shop, made)
      return planned.ok ? [{ addition, chance: chanceIn(shop, planned.value) }] : []
    })
    .filter(({ chance }) => chance - before >= LEAST_GAIN - 1e-9)
    .sort((a, b) => b.chance - a.chance)
    .slice(0, MOST_TOLD)
}
