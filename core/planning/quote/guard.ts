import type { Odds, PromiseChance } from './answers.ts'
import { heldBack } from './fitted-in.ts'
import { Draws } from '../odds/draws.ts'
import type { Forecast } from '../odds/forecast.ts'
import { oddsOf } from '../odds/simulate.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'

/** A promise may lose this much of its chance and still count as kept: less than replications can tell. */
const SLACK = 0.02
/** How often the way back is halved in search of the first date that passes. */
const HALVINGS = 3
/** Replications for each of those looks; what is offered in the end is weighed with all of them. */
const LOOKS = 100

interface GuardOptions {
  readonly forecast: Forecast
  readonly replications: number
  readonly seed: number
}

/** What an offer is worth, and what it costs others in chances. */
interface Weighed {
  readonly odds: Odds
  /** Those that lose most first. */
  readonly others: readonly PromiseChance[]
  readonly keepsPromises: boolean
}

/**
 * Looks after promises while new work is taken on: each keeps at least the chance that was stated with it, or the one that it
 * has without the new work where that is less. What a promise has above its stated chance may be used.
 */
export class Guard {
  readonly #commissionId: string
  readonly #shop: PlanningProblem
  readonly #current: Plan
  readonly #draws: Draws
  readonly #quick: Draws
  /** Chances without the new work, for all replications and for a quick look. */
  readonly #before = new Map<Draws, ReadonlyMap<string, number>>()
  readonly #weighed = new WeakMap<Plan, Weighed>()

  /** @param shop the problem without the new work, and its plan */
  constructor(
    shop: PlanningProblem,
    current: Plan,
    commissionId: string,
    { forecast, replications, seed }: GuardOptions,
  ) {
    this.#commissionId = commissionId
    this.#shop = shop
    this.#current = current
    this.#draws = new Draws(replications, seed, forecast)
    this.#quick = replications <= LOOKS ? this.#draws : new Draws(LOOKS, seed, forecast)
  }

  /** Weighs a plan with the new work in it. @param shop may have more hours or stations than the one without it */
  weigh(shop: PlanningProblem, made: Plan): Weighed {
    const known = this.#weighed.get(made)
    if (known !== undefined) return known
    const weighed = this.#weigh(shop, made, this.#draws)
    this.#weighed.set(made, weighed)
    return weighed
  }

  /**
   * The plan itself where it passes; otherwise the soonest one found in which the new work stands further back in the list; null
   * where not even behind everybody else it passes.
   */
  soonestThatPasses(joined: PlanningProblem, current: Plan, made: Plan): Plan | null {
    if (this.weigh(joined, made).keepsPromises) return made
    const { now } = joined
    const promised = joined.commissions.flatMap(({ id, promise }) =>
      promise === null || id === this.#commissionId ? [] : [id],
    )
    const last = Math.max(
      now,
      ...current.commissions.filter(({ id }) => promised.includes(id)).map(({ doneAt }) => doneAt),
    )
    const behindAll = heldBack(joined, this.#commissionId, current, last)
    if (behindAll === null) return null
    let found: Plan | null = this.#weigh(joined, behindAll, this.#quick).keepsPromises ? behindAll : null
    if (found === null) return this.weigh(joined, behindAll).keepsPromises ? behindAll : null
    let [harmful, harmless] = [now, last]
    for (let halving = 0; halving < HALVINGS; halving++) {
      const from = Math.round((harmful + harmless) / 2)
      const tried = heldBack(joined, this.#commissionId, current, from)
      if (tried !== null && this.#weigh(joined, tried, this.#quick).keepsPromises) {
        found = tried
        harmless = from
      } else harmful = from
    }
    // A quick look may have been lucky.
    return this.weigh(joined, found).keepsPromises
      ? found
      : this.weigh(joined, behindAll).keepsPromises
        ? behindAll
        : null
  }

  #weigh(shop: PlanningProblem, made: Plan, draws: Draws): Weighed {
    const before = this.#chancesBefore(draws)
    const answers = oddsOf(shop, made, draws)
    const { odds } = answers.find(({ commissionId }) => commissionId === this.#commissionId)!
    const stated = new Map(shop.commissions.map(({ id, statedChance }) => [id, statedChance ?? 1]))
    const others = answers.flatMap(({ commissionId, odds: { keepsPromise } }): PromiseChance[] => {
      const was = before.get(commissionId)
      if (commissionId === this.#commissionId || keepsPromise === null || was === undefined) return []
      return [{ commissionId, before: was, after: keepsPromise }]
    })
    return {
      odds,
      others: others.toSorted((a, b) => a.after - a.before - (b.after - b.before)),
      keepsPromises: others.every(
        ({ commissionId, before: was, after }) => after >= Math.min(stated.get(commissionId)!, was) - SLACK,
      ),
    }
  }

  #chancesBefore(draws: Draws): ReadonlyMap<string, number> {
    const known = this.#before.get(draws)
    if (known !== undefined) return known
    const chances = new Map(
      oddsOf(this.#shop, this.#current, draws).flatMap(({ commissionId, odds: { keepsPromise } }) =>
        keepsPromise === null ? [] : [[commissionId, keepsPromise] as const],
      ),
    )
    this.#before.set(draws, chances)
    return chances
  }
}
