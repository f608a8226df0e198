import { simulate, type Forecast, type Plan, type PlanningProblem } from '../../../core/planning/index.ts'
import { DAY_MIN, FIRST_JUDGED_DAY } from '../calendar.ts'
import type { Outcome } from '../lived.ts'
import { wasKept, won } from './judged.ts'

/** What a chance changed by: orders that were taken later, evenings that went as they went, another plan that was found. */
export const CAUSES = ['orders', 'evenings', 'plans'] as const
export type Cause = (typeof CAUSES)[number]

/** How the shop stands after something happened. */
export interface Standing {
  readonly now: number
  readonly problem: PlanningProblem
  readonly plan: Plan
  readonly forecast: Forecast
}

export type Watch = (cause: Cause, standing: Standing) => void

/** Where promises of a shop lost their chance. All are means over its promises. */
export interface ChancesByCause {
  readonly promises: number
  readonly stated: number
  readonly kept: number
  /** The chance that was looked up once the order was taken: the quote's plan is gone, that of the book with it has begun. */
  readonly first: number
  /** Together with `first` and `atLast` this comes to what is kept. */
  readonly changedBy: Readonly<Record<Cause, number>>
  /** From the last chance that was looked up to what came true. */
  readonly atLast: number
}

/** So many replications each time: the errors of single looks cancel out over a year. */
const REPLICATIONS = 100

interface Followed {
  readonly first: number
  last: number
  readonly changedBy: Record<Cause, number>
}

/**
 * Follows the chance of each promise of the judged year through everything that happens. If chances are right, each cause changes
 * them by nothing in the mean (a martingale), so a mean that is not 0 says where what is kept parts from what was stated.
 */
export class ChancesFollowed {
  readonly #followed = new Map<string, Followed>()

  readonly watch: Watch = (cause, { now, problem, plan, forecast }) => {
    if (now < FIRST_JUDGED_DAY * DAY_MIN || problem.commissions.length === 0) return
    const looked = simulate(problem, plan, { forecast, replications: REPLICATIONS, seed: now })
    for (const [at, { odds }] of looked.entries()) {
      const { id, promise } = problem.commissions[at]!
      if (promise === null || odds.keepsPromise === null) continue
      const key = `${id} ${promise}`
      const known = this.#followed.get(key)
      if (known === undefined) {
        const first = odds.keepsPromise
        this.#followed.set(key, { first, last: first, changedBy: { orders: 0, evenings: 0, plans: 0 } })
        continue
      }
      known.changedBy[cause] += odds.keepsPromise - known.last
      known.last = odds.keepsPromise
    }
  }

  /** @param commissionOf the commission of an outcome */
  summary(outcomes: readonly Outcome[], commissionOf: (outcome: Outcome) => string | undefined): ChancesByCause {
    const all = won(outcomes).flatMap((outcome) => {
      const followed = this.#followed.get(`${commissionOf(outcome)} ${outcome.promised.dueAt}`)
      const { stated } = outcome.promised
      return followed === undefined || stated === null ? [] : [{ followed, stated, kept: wasKept(outcome) ? 1 : 0 }]
    })
    const mean = (of: (each: (typeof all)[number]) => number): number =>
      all.reduce((sum, each) => sum + of(each), 0) / Math.max(1, all.length)
    const by = (cause: Cause): number => mean(({ followed }) => followed.changedBy[cause])
    return {
      promises: all.length,
      stated: mean(({ stated }) => stated),
      kept: mean(({ kept }) => kept),
      first: mean(({ followed }) => followed.first),
      changedBy: { orders: by('orders'), evenings: by('evenings'), plans: by('plans') },
      atLast: mean(({ followed, kept }) => kept - followed.last),
    }
  }
}
