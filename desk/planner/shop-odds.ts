import type { Forecast, Odds } from '../../core/planning/index.ts'
import { replications } from './odds-view.ts'
import type { Planner } from './planner.ts'
import type { PlanAnswer } from './planning-request.ts'

/** Odds of an order; not `fresh`: of the plan before, while those of the present one are worked out. */
export interface OddsShown {
  readonly odds: Odds
  readonly fresh: boolean
}

/** What was worked out last, and for which plan. */
interface WorkedOut {
  readonly plan: PlanAnswer
  readonly byOrder: ReadonlyMap<string, Odds>
}

/**
 * The odds of all orders in the plan: worked out once for each plan, behind everything that somebody waits for. Until those of a
 * new plan are there the last ones are shown as what they are.
 */
export class ShopOdds {
  readonly #planner: Planner
  #last: WorkedOut | null = null
  #working: { readonly plan: PlanAnswer; readonly done: Promise<boolean> } | null = null

  readonly #forecast: () => Promise<Forecast>

  constructor(planner: Planner, forecast: () => Promise<Forecast>) {
    this.#planner = planner
    this.#forecast = forecast
  }

  /** Works the odds of a plan out; true when they are there, false when a newer plan took its place or it could not be. */
  workOut(plan: PlanAnswer): Promise<boolean> {
    if (this.#last?.plan === plan) return Promise.resolve(true)
    if (this.#working?.plan === plan) return this.#working.done
    const done = this.#ask(plan)
    this.#working = { plan, done }
    return done
  }

  async #ask(plan: PlanAnswer): Promise<boolean> {
    const forecast = await this.#forecast()
    const answer = await this.#planner.ask('all-odds', { kind: 'all-odds', forecast, replications })
    if (this.#working?.plan !== plan || !answer.ok || answer.value.version !== plan.version) return false
    const byOrder = new Map(answer.value.orders.map(({ commissionId, odds }) => [commissionId, odds]))
    this.#last = { plan, byOrder }
    return true
  }

  /** @param present the plan that is shown */
  of(commissionId: string, present: PlanAnswer | null): OddsShown | null {
    const odds = this.#last?.byOrder.get(commissionId)
    return odds === undefined ? null : { odds, fresh: this.#last?.plan === present }
  }

  /** Changes whenever other odds are there: what was derived from them is stale then. */
  get state(): object | null {
    return this.#last
  }
}
