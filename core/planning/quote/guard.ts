import type { Odds, PromiseChance } from './answers.ts'
import { courseOf } from '../odds/course.ts'
import { Draws } from '../odds/draws.ts'
import type { Forecast } from '../odds/forecast.ts'
import { LivedPlan } from '../odds/lived.ts'
import { summary } from '../odds/simulate.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { heldBack } from './fitted-in.ts'

/** A promise may lose this much of its chance to one order: one replication in 200. More, and many orders take much in the end. */
const SLACK = 0.005
/** How often the way back is halved in search of the first date that passes. */
const HALVINGS = 3
/** Replications for each of those looks; what is offered in the end is weighed with all of them. */
const LOOKS = 60
/** Shares of replications are not exact. */
const TINY = 1e-9

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

/** A promise of somebody else. */
interface Guarded {
  readonly commissionId: string
  readonly promise: number
  /** Place in the problem; the new work comes last, so it is the same with it and without. */
  readonly position: number
}

/**
 * Looks after promises while new work is taken on: each keeps the chance that it has without the new work, also what it has above the
 * one that was stated. Luck lifts some promises above what was stated and lets others fall below; if new work took from those that
 * were lifted, and nothing gave to those that fell, fewer would be kept than was said. As it is, a promise's chance goes up and down by
 * luck alone, so that its mean in the end is what was stated (it is a martingale: optional stopping, J. L. Doob 1953).
 */
export class Guard {
  readonly #commissionId: string
  readonly #draws: Draws
  readonly #guarded: readonly Guarded[]
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
    this.#guarded = shop.commissions.flatMap(({ id, promise }, position) =>
      promise === null ? [] : [{ commissionId: id, promise, position }],
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
      odds: summary(done[mine]!, shop.commissions[mine]!.promise, missed[mine]! / runs),
      others: others.toSorted((a, b) => a.after - a.before - (b.after - b.before)),
      keepsPromises: mostLost(others) <= SLACK + TINY,
    }
    this.#weighed.set(made, weighed)
    return weighed
  }

  /**
   * The plan itself where it passes; otherwise the soonest one found in which the new work stands further back in the list, or the one
   * that costs others least where not even behind everybody else it passes.
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
      if (!this.#seemsToPass(joined, plan)) return false
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

  #leastHarmful(joined: PlanningProblem, plans: readonly Plan[]): Plan {
    const lost = plans.map((plan) => allLost(this.#others(joined, plan, this.#looks)))
    return plans[lost.indexOf(Math.min(...lost))]!
  }

  #passes(shop: PlanningProblem, made: Plan): boolean {
    return this.#seemsToPass(shop, made) && this.weigh(shop, made).keepsPromises
  }

  /** By a few replications, of which one may be lost by chance where there are more: what fails in them need not be looked at in all. */
  #seemsToPass(shop: PlanningProblem, made: Plan): boolean {
    const looks = this.#looks
    const mayLose = looks < this.#draws.count ? Math.max(SLACK, 1 / looks) : SLACK
    return mostLost(this.#others(shop, made, looks)) <= mayLose + TINY
  }

  get #looks(): number {
    return Math.min(LOOKS, this.#draws.count)
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

/** What the promise that fares worst loses of its chance. */
const mostLost = (others: readonly PromiseChance[]): number =>
  others.reduce((most, { before, after }) => Math.max(most, before - after), 0)

/** What all promises together lose. */
const allLost = (others: readonly PromiseChance[]): number =>
  others.reduce((sum, { before, after }) => sum + before - after, 0)

function shareBy(done: Int32Array, promise: number, runs: number): number {
  let kept = 0
  for (let run = 0; run < runs; run++) if (done[run]! <= promise) kept += 1
  return kept / runs
}
