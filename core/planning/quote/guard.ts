import type { Odds, PromiseChance } from './answers.ts'
import { courseOf } from '../odds/course.ts'
import { Draws } from '../odds/draws.ts'
import type { Forecast } from '../odds/forecast.ts'
import { asTold, type NotInThePlan } from '../odds/as-told.ts'
import { LivedPlan } from '../odds/lived.ts'
import { summary } from '../odds/simulate.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { doneAt, heldBack } from './fitted-in.ts'

/** A promise may lose this much of its chance and still count as kept: less than replications can tell. */
const SLACK = 0.02
/** How often the way back is halved in search of the first date that passes. */
const HALVINGS = 3
/** Replications for each of those looks; what is offered in the end is weighed with all of them. */
const LOOKS = 60

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

/** A promise of somebody else, and its chance when it was given, if no order was taken later. */
interface Guarded {
  readonly commissionId: string
  readonly promise: number
  readonly given: number
  /** Place in the problem; the new work comes last, so it is the same with it and without. */
  readonly position: number
}

/**
 * Looks after promises while new work is taken on: each keeps at least the chance that it was given with (as if no order came later), or
 * the one that it has without the new work where that is less; two points less count as that. What it has above that may be used.
 */
export class Guard {
  readonly #commissionId: string
  readonly #draws: Draws
  readonly #guarded: readonly Guarded[]
  readonly #notInThePlan: NotInThePlan
  /** The shop without the new work, with the same luck. */
  readonly #before: LivedPlan
  readonly #lived = new WeakMap<Plan, LivedPlan>()
  readonly #weighed = new WeakMap<Plan, Weighed>()

  /** @param shop the problem without the new work, and its plan */
  constructor(
    shop: PlanningProblem,
    current: Plan,
    commissionId: string,
    { forecast, replications, seed }: GuardOptions,
  ) {
    this.#commissionId = commissionId
    this.#draws = new Draws(replications, seed, forecast)
    const { ordersPerWeek, lessSure } = forecast
    this.#notInThePlan = { from: shop.now, ordersPerWeek, lessSure }
    this.#guarded = shop.commissions.flatMap(({ id, promise, chanceAlone }, position) =>
      promise === null ? [] : [{ commissionId: id, promise, given: chanceAlone ?? 1, position }],
    )
    this.#before = new LivedPlan(courseOf(shop, current), this.#draws, this.#positions())
  }

  /** Weighs a plan with the new work in it. @param shop may have more hours or stations than the one without it */
  weigh(shop: PlanningProblem, made: Plan): Weighed {
    const known = this.#weighed.get(made)
    if (known !== undefined) return known
    const runs = this.#draws.count
    const { done, missed } = this.#livedOf(shop, made).through(runs)
    const mine = shop.commissions.findIndex(({ id }) => id === this.#commissionId)
    const others = this.#others(shop, made, runs)
    const weighed = {
      odds: summary(done[mine]!, shop.commissions[mine]!.promise, missed[mine]! / runs, this.#notInThePlan),
      others: this.#asTold(others).toSorted((a, b) => a.after - a.before - (b.after - b.before)),
      keepsPromises: this.#mostLost(others, runs) <= 0,
    }
    this.#weighed.set(made, weighed)
    return weighed
  }

  /**
   * The plan itself where it passes; otherwise the soonest one found in which the new work stands further back in the list, or the one
   * that costs others least, or hardly more, where not even behind everybody else it passes.
   */
  soonestThatPasses(joined: PlanningProblem, current: Plan, made: Plan): Plan {
    if (this.#passes(joined, made)) return made
    const promised = new Set(this.#guarded.map(({ commissionId }) => commissionId))
    const ends = current.commissions.filter(({ id }) => promised.has(id)).map(({ doneAt }) => doneAt)
    const last = Math.max(joined.now, ...ends)
    let [harmful, harmless] = [joined.now, last]
    const passing: Plan[] = []
    const tried = [made]
    const look = (from: number): boolean => {
      const plan = heldBack(joined, this.#commissionId, current, from)
      if (plan === null) return false
      tried.push(plan)
      if (this.#lost(joined, plan, Math.min(LOOKS, this.#draws.count)) > 0) return false
      passing.push(plan)
      return true
    }
    if (look(last)) {
      for (let halving = 0; halving < HALVINGS; halving++) {
        const from = Math.round((harmful + harmless) / 2)
        if (look(from)) harmless = from
        else harmful = from
      }
    }
    // A quick look may have been lucky: then the next one further back is tried.
    const found = passing.toReversed().find((plan) => this.weigh(joined, plan).keepsPromises)
    return found ?? this.#leastHarmful(joined, tried)
  }

  /** Of those that cost hardly more than the one that costs least, the soonest: nobody waits weeks for a chance in a hundred of another's. */
  #leastHarmful(joined: PlanningProblem, plans: readonly Plan[]): Plan {
    const runs = Math.min(LOOKS, this.#draws.count)
    const lost = plans.map((plan) => this.#lost(joined, plan, runs))
    const least = Math.min(...lost) + slackOf(runs)
    const done = (made: Plan): number => doneAt(made, this.#commissionId)
    const hardlyMore = plans.filter((_, at) => lost[at]! <= least)
    return hardlyMore.reduce((soonest, made) => (done(made) < done(soonest) ? made : soonest))
  }

  /** A few replications first: what fails in them by far need not be looked at in all. */
  #passes(shop: PlanningProblem, made: Plan): boolean {
    const looks = Math.min(LOOKS, this.#draws.count)
    return this.#lost(shop, made, looks) <= 0 && this.weigh(shop, made).keepsPromises
  }

  #lost(shop: PlanningProblem, made: Plan, runs: number): number {
    return this.#mostLost(this.#others(shop, made, runs), runs)
  }

  /** By how much the promise that fares worst falls below what it may fall to; not above 0: none does. */
  #mostLost(others: readonly PromiseChance[], runs: number): number {
    return others.reduce(
      (most, { before, after }, at) =>
        Math.max(most, leastChance(this.#guarded[at]!.given, before, runs) - after - 1e-9),
      -1,
    )
  }

  #others(shop: PlanningProblem, made: Plan, runs: number): PromiseChance[] {
    const before = this.#before.through(runs).done
    const after = this.#livedOf(shop, made).through(runs).done
    return this.#guarded.map(({ commissionId, promise, position }) => ({
      commissionId,
      before: shareBy(before[position]!, promise, runs),
      after: shareBy(after[position]!, promise, runs),
    }))
  }

  #asTold(others: readonly PromiseChance[]): PromiseChance[] {
    return others.map(({ commissionId, before, after }, at) => {
      const { promise } = this.#guarded[at]!
      const told = (alone: number): number => asTold(alone, promise, this.#notInThePlan)
      return { commissionId, before: told(before), after: told(after) }
    })
  }

  #positions(): number[] {
    return this.#guarded.map(({ position }) => position)
  }

  #livedOf(shop: PlanningProblem, made: Plan): LivedPlan {
    const known = this.#lived.get(made)
    if (known !== undefined) return known
    const mine = shop.commissions.findIndex(({ id }) => id === this.#commissionId)
    const lived = new LivedPlan(courseOf(shop, made), this.#draws, [...this.#positions(), mine])
    this.#lived.set(made, lived)
    return lived
  }
}

/** One or two replications are no difference, however few there are. */
const slackOf = (runs: number): number => Math.max(SLACK, 2 / runs)

/** What the chance of a promise may fall to. @param given when it was promised @param before as it is */
function leastChance(given: number, before: number, runs: number): number {
  // What has fallen below already falls no further: a little for each order that is taken would be much in the end.
  return Math.min(given - slackOf(runs), before - 1 / runs)
}

export function shareBy(done: Int32Array, promise: number, runs: number): number {
  let kept = 0
  for (let run = 0; run < runs; run++) if (done[run]! <= promise) kept += 1
  return kept / runs
}
