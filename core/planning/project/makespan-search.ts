import { ClauseLearning } from './clause-learning.ts'
import { makespanLowerBound } from './critical-path.ts'
import type { LaggedProject } from './lagged-project.ts'
import { luby } from './luby.ts'
import type { Project } from './project.ts'
import { SchedulePopulation } from './schedule-population.ts'
import type { SearchBudget } from './search-budget.ts'
import { randomStream } from './seeded-random.ts'

export interface MakespanResult {
  readonly starts: readonly number[]
  readonly makespan: number
  /** No schedule is shorter; equal to the makespan when it is proved best. */
  readonly lowerBound: number
  readonly schedules: number
}

/**
 * Short makespan of a project without calendars: a population of schedules first, then a complete search for anything
 * shorter than its best, which learns from dead ends; then the population again with what came of it. Dead ends of the
 * complete search count as schedules. Ends early when nothing shorter is possible.
 *
 * At least one schedule with its justification (three passes) is made whatever the budget says. Deterministic for a seed
 * and a number of schedules.
 */
export function leastMakespan(project: Project, budget: SearchBudget, seed: number): MakespanResult {
  const goOn = budget.goOn ?? (() => true)
  const population = new SchedulePopulation(project, randomStream(seed))
  let lowerBound = makespanLowerBound(project)
  let deadEnds = 0
  const spent = (): number => population.schedules + deadEnds
  const open = (): boolean => population.bestMakespan > lowerBound && spent() < budget.schedules && goOn()

  let complete: ClauseLearning | null = null
  let run = 0
  const breedUntil = (limit: number, size: number): void => {
    const until = Math.min(limit, budget.schedules) - SCHEDULES_OF_A_CHILD
    while (population.size < size && spent() <= until && population.bestMakespan > lowerBound && goOn())
      population.addSample()
    while (population.size > 1 && spent() <= until && population.bestMakespan > lowerBound && goOn()) population.breed()
  }
  const searchUntil = (limit: number): void => {
    const until = Math.min(limit, budget.schedules - SCHEDULES_OF_A_CHILD)
    while (spent() < until && open()) {
      complete ??= new ClauseLearning(asLagged(project), population.bestMakespan - 1)
      complete.prefer(population.best)
      const before = complete.conflicts
      const allowed = Math.min(RESTART * luby(++run), until - spent())
      const end = complete.demandEndBy(population.bestMakespan - 1) ? complete.search(allowed, goOn) : 'exhausted'
      deadEnds += complete.conflicts - before
      if (end === 'exhausted') lowerBound = population.bestMakespan
      if (end === 'found') population.addSchedule(complete.starts())
      lowerBound = Math.max(lowerBound, Math.min(complete.leastEnd, population.bestMakespan))
    }
  }

  let roundBudget = Number.isFinite(budget.schedules) ? budget.schedules : FIRST_ROUND
  population.addSample()
  while (open()) {
    const begin = spent()
    breedUntil(
      begin + roundBudget * BREEDING_SHARE,
      Math.max(MEMBERS_LEAST, Math.round(MEMBERS_PER_ROOT * Math.sqrt(roundBudget))),
    )
    searchUntil(begin + roundBudget * (BREEDING_SHARE + COMPLETE_SHARE))
    breedUntil(begin + roundBudget, 2)
    if (spent() + SCHEDULES_OF_A_CHILD > budget.schedules) break
    population.clear()
    population.addSchedule(population.best)
    roundBudget *= 2
  }
  return { starts: Array.from(population.best), makespan: population.bestMakespan, lowerBound, schedules: spent() }
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
const FIRST_ROUND = 2000
const BREEDING_SHARE = 0.5
const COMPLETE_SHARE = 0.4
const MEMBERS_LEAST = 10
const MEMBERS_PER_ROOT = 0.6
const RESTART = 100
