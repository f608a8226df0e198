import { ClauseLearning } from './clause-learning.ts'
import { makespanLowerBound } from './critical-path.ts'
import type { LaggedProject } from './lagged-project.ts'
import { luby } from './luby.ts'
import type { Project } from './project.ts'
import { SchedulePopulation } from './schedule-population.ts'
import type { SearchBudget } from './search-budget.ts'
import { randomStream } from './seeded-random.ts'
import { TimeWindows } from './time-windows.ts'

export interface MakespanResult {
  readonly starts: readonly number[]
  readonly makespan: number
  /** No schedule is shorter; equal to the makespan when it is proved best. */
  readonly lowerBound: number
  readonly schedules: number
}

/**
 * Short makespan of a project without calendars, in rounds of four parts: a population of schedules breeds; a complete
 * search looks for anything shorter than its best and learns from dead ends; the same search closes windows of time,
 * with all that lies before and after them fixed; what is left of the budget goes to the population again. Dead ends count
 * as schedules. Ends early when nothing shorter is possible.
 *
 * At least one schedule with its justification (three passes) is made whatever the budget says. Deterministic for a seed
 * and a number of schedules.
 */
export function leastMakespan(project: Project, budget: SearchBudget, seed: number): MakespanResult {
  const search = new MakespanSearch(project, budget, seed)
  let round = Number.isFinite(budget.schedules) ? budget.schedules : FIRST_ROUND
  search.begin()
  while (search.open) {
    const from = search.spent
    const complete = Math.min(COMPLETE_SHARE * round, COMPLETE_MOST)
    const windows = Math.min(WINDOW_SHARE * round, WINDOWS_MOST)
    search.breedUntil(
      from + round - complete - windows,
      Math.max(MEMBERS_LEAST, Math.round(MEMBERS_PER_ROOT * Math.sqrt(round))),
    )
    search.searchUntil(from + round - windows)
    search.closeWindowsUntil(from + round)
    search.breedUntil(from + round, 2)
    if (search.spent + SCHEDULES_OF_A_CHILD > budget.schedules) break
    search.beginAnew()
    round *= 2
  }
  return search.result
}

class MakespanSearch {
  private readonly project: Project
  private readonly budget: SearchBudget
  private readonly goOn: () => boolean
  private readonly population: SchedulePopulation
  private readonly windows: TimeWindows
  private complete: ClauseLearning | null = null
  private lowerBound: number
  /** Dead ends of the complete search and passes that lay windows out. */
  private otherSchedules = 0
  private runs = 0

  constructor(project: Project, budget: SearchBudget, seed: number) {
    this.project = project
    this.budget = budget
    this.goOn = budget.goOn ?? (() => true)
    this.population = new SchedulePopulation(project, randomStream(seed))
    this.windows = new TimeWindows(project, randomStream(seed + 1))
    this.lowerBound = makespanLowerBound(project)
  }

  get spent(): number {
    return this.population.schedules + this.otherSchedules
  }

  get open(): boolean {
    return this.improvable && this.spent < this.budget.schedules && this.goOn()
  }

  get result(): MakespanResult {
    const { best, bestMakespan } = this.population
    return { starts: Array.from(best), makespan: bestMakespan, lowerBound: this.lowerBound, schedules: this.spent }
  }

  begin(): void {
    this.population.addSample()
  }

  beginAnew(): void {
    this.population.clear()
    this.population.addSchedule(this.population.best)
  }

  breedUntil(limit: number, size: number): void {
    const until = Math.min(limit, this.budget.schedules) - SCHEDULES_OF_A_CHILD
    const { population } = this
    while (population.size < size && this.spent <= until && this.improvable && this.goOn()) population.addSample()
    while (population.size > 1 && this.spent <= until && this.improvable && this.goOn()) population.breed()
  }

  searchUntil(limit: number): void {
    const until = Math.min(limit, this.budget.schedules - SCHEDULES_OF_A_CHILD)
    while (this.spent < until && this.open) {
      const solver = this.solverForShorter()
      if (solver === null) return
      const before = solver.conflicts
      this.runs += 1
      const end = solver.search(Math.min(RESTART * luby(this.runs), until - this.spent), this.goOn)
      this.otherSchedules += solver.conflicts - before
      this.take(solver, end === 'found', end === 'exhausted')
    }
  }

  closeWindowsUntil(limit: number): void {
    const until = Math.min(limit, this.budget.schedules - SCHEDULES_OF_A_CHILD)
    while (this.spent + SCHEDULES_OF_A_WINDOW < until && this.open) {
      const solver = this.solverForShorter()
      if (solver === null) return
      const outside = this.windows.outsideOfOne(this.population.best, this.population.bestMakespan)
      const before = solver.conflicts
      const end = solver.search(Math.min(WINDOW_DEAD_ENDS, until - this.spent), this.goOn, outside)
      this.otherSchedules += solver.conflicts - before + SCHEDULES_OF_A_WINDOW
      this.take(solver, end === 'found', end === 'exhausted')
    }
  }

  private get improvable(): boolean {
    return this.population.bestMakespan > this.lowerBound
  }

  /** The complete search, asked for less than the best makespan; null when that is impossible. */
  private solverForShorter(): ClauseLearning | null {
    const { best, bestMakespan } = this.population
    this.complete ??= new ClauseLearning(asLagged(this.project), bestMakespan - 1)
    this.complete.prefer(best)
    if (this.complete.demandEndBy(bestMakespan - 1)) return this.complete
    this.lowerBound = bestMakespan
    return null
  }

  private take(solver: ClauseLearning, found: boolean, exhausted: boolean): void {
    if (exhausted) this.lowerBound = this.population.bestMakespan
    if (found) this.population.addSchedule(solver.starts())
    this.lowerBound = Math.max(this.lowerBound, Math.min(solver.leastEnd, this.population.bestMakespan))
  }
}

function asLagged(project: Project): LaggedProject {
  const { durations, needs, capacities, successors } = project
  return {
    durations,
    needs,
    capacities,
    lags: successors.flatMap((list, from) => list.map((to) => ({ from, to, lag: durations[from]! }))),
  }
}

const SCHEDULES_OF_A_CHILD = 3
/** One pass to lay it out, and the schedule that comes of it or does not. */
const SCHEDULES_OF_A_WINDOW = 2
const FIRST_ROUND = 2000
/** Beyond some thousand dead ends a large project gains more from breeding. */
const COMPLETE_SHARE = 0.2
const COMPLETE_MOST = 2000
const WINDOW_SHARE = 0.2
const WINDOWS_MOST = 4000
const WINDOW_DEAD_ENDS = 100
const MEMBERS_LEAST = 10
const MEMBERS_PER_ROOT = 0.45
const RESTART = 100
