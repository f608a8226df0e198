import { compareObjectives, improve, type Plan, type Progress } from '../../core/planning/index.ts'
import type { Result } from '../../core/problems.ts'
import type { Planned } from './plan-book.ts'

/** How long a better plan is looked for: whichever is used up first. */
export interface SearchBudget {
  /** Steps placed in a schedule, all schedules together: so a large book gets fewer schedules than a small one. */
  readonly placements: number
  /** The most that a small book gets. */
  readonly schedules: number
  /** Infinity: what is found depends on nothing but the book and the placements. */
  readonly seconds: number
}

export type SearchOutcome =
  /** Proved that none is better than the best one. */
  | 'best'
  /** The budget is used up. */
  | 'looked'
  /** The maker had enough. */
  | 'stopped'

/** Fewer find nothing, however large they are. */
const LEAST_SCHEDULES = 50

/**
 * A search weighs what it has found so many times, each time after twice as long: what is best at last may take from one promise
 * what it gives to another, and what was found first is nearest to the plan as it is.
 */
const LOOKS = 8

/** Looks for a better plan than the one there is, slice by slice, for as long as it is asked to. */
export class PlanSearch {
  readonly #start: Plan
  readonly #schedules: number
  readonly #seconds: number
  readonly #search: Generator<Progress, Result<Plan>>
  readonly #startedMs = performance.now()
  readonly #keepsPromises: (plan: Plan) => boolean
  #best: Plan
  #share = 0
  /** The best one that was weighed, and the best one that passed. */
  #weighed: Plan
  #passed: Plan
  #looks = 0

  /** @param keepsPromises whether a plan leaves every promise as sure as it has to be: only such a one is better */
  constructor({ problem, plan }: Planned, budget: SearchBudget, seed: number, keepsPromises: (plan: Plan) => boolean) {
    this.#keepsPromises = keepsPromises
    this.#weighed = this.#passed = plan
    const schedules = Math.floor(budget.placements / Math.max(1, problem.steps.length))
    this.#schedules = Math.min(budget.schedules, Math.max(LEAST_SCHEDULES, schedules))
    this.#seconds = budget.seconds
    this.#start = this.#best = plan
    this.#search = improve(problem, { schedules: this.#schedules, seed, start: plan })
  }

  /** Some hundredths of a second of work, and now and then a look at the promises; null while there is more to do. */
  slice(): Exclude<SearchOutcome, 'stopped'> | null {
    const seconds = (performance.now() - this.#startedMs) / 1000
    if (seconds > this.#seconds) {
      this.#weigh()
      return 'looked'
    }
    const next = this.#search.next()
    if (next.done !== true) {
      this.#take(next.value.plan)
      this.#share = Math.min(1, Math.max(next.value.schedules / this.#schedules, seconds / this.#seconds))
      if (this.#share >= 2 ** (this.#looks - LOOKS)) this.#weigh()
      return null
    }
    if (next.value.ok) this.#take(next.value.value)
    this.#weigh()
    // The best one is not the one to take where it takes from a promise: then it is not known whether there is a better one.
    return next.value.ok && next.value.value.quality === 'optimal' && this.#passed === this.#best ? 'best' : 'looked'
  }

  /** The best plan found that keeps promises, where it is better than the one that the search began with; weighed now and then. */
  get better(): Plan | null {
    return this.#passed === this.#start ? null : this.#passed
  }

  /** How much of the budget is used up, 0..1. */
  get share(): number {
    return this.#share
  }

  #weigh(): void {
    this.#looks += 1
    if (this.#weighed === this.#best) return
    this.#weighed = this.#best
    if (this.#keepsPromises(this.#best)) this.#passed = this.#best
  }

  #take(plan: Plan): void {
    if (plan !== this.#best && compareObjectives(plan.objective, this.#best.objective) < 0) this.#best = plan
  }
}
