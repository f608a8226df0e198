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

  #beside: {
    readonly present: PlanAnswer | null
    readonly last: WorkedOut | null
    readonly of: (commissionId: string) => OddsShown | null
  } | null = null

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

  /**
   * The odds of each order, beside the plan that is shown. The same function for as long as neither plan nor odds are others:
   * what was derived from another one is stale.
   * @param present the plan that is shown
   */
  beside(present: PlanAnswer | null): (commissionId: string) => OddsShown | null {
    const last = this.#last
    if (this.#beside?.present !== present || this.#beside.last !== last)
      this.#beside = { present, last, of: (id) => shownIn(last, id, present) }
    return this.#beside.of
  }

  /** Odds of an order in the plan that is shown, once they are worked out; null when it has none. */
  async once(commissionId: string, present: PlanAnswer | null): Promise<Odds | null> {
    if (present === null || !(await this.workOut(present))) return null
    const shown = this.beside(present)(commissionId)
    return shown?.fresh === true ? shown.odds : null
  }
}

function shownIn(last: WorkedOut | null, commissionId: string, present: PlanAnswer | null): OddsShown | null {
  const odds = last?.byOrder.get(commissionId)
  return odds === undefined ? null : { odds, fresh: last?.plan === present }
}
