import { randomStream } from '../project/seeded-random.ts'
import type { SearchBudget } from '../project/search-budget.ts'
import { apparentTardinessCostOrder } from './apparent-tardiness-cost.ts'
import { Dynasearch } from './dynasearch.ts'
import { weightedTardiness, type OneMachineJobs } from './weighted-tardiness.ts'

export interface TardinessResult {
  readonly order: readonly number[]
  readonly tardiness: number
  /** Orders timed completely. */
  readonly schedules: number
}

/**
 * Least weighted tardiness found by iterated dynasearch: a descent from the best of several apparent-tardiness-cost
 * orders, then again and again from a slightly shaken order; a run that stays behind for long goes back to the best.
 * Ends early when nothing is late.
 */
export function leastWeightedTardiness(jobs: OneMachineJobs, budget: SearchBudget, seed: number): TardinessResult {
  const count = jobs.durations.length
  const random = randomStream(seed)
  const descent = new Dynasearch(jobs)
  const starts = [0.5, 1, 2, 3, 5].map((lookAhead) => apparentTardinessCostOrder(jobs, lookAhead))
  starts.push(Int32Array.from(jobs.durations.keys()).sort((a, b) => jobs.dues[a]! - jobs.dues[b]!))
  let best = starts[0]!.slice()
  let bestTardiness = weightedTardiness(jobs, best)
  for (const start of starts) {
    const tardiness = descent.descend(start)
    if (tardiness < bestTardiness) {
      bestTardiness = tardiness
      best = start.slice()
    }
  }
  let current = best.slice()
  let currentTardiness = bestTardiness
  const trial = best.slice()
  let behind = 0
  while (bestTardiness > 0 && count > 1 && descent.passes < budget.schedules && (budget.goOn?.() ?? true)) {
    trial.set(current)
    shake(trial, KICKS_LEAST + random.below(KICKS_SPREAD), random)
    const tardiness = descent.descend(trial)
    behind += 1
    if (tardiness <= currentTardiness) {
      currentTardiness = tardiness
      current.set(trial)
      if (tardiness < bestTardiness) {
        bestTardiness = tardiness
        best.set(trial)
        behind = 0
      }
    } else if (random.fraction() < ACCEPT_WORSE) {
      currentTardiness = tardiness
      current.set(trial)
    }
    if (behind > PATIENCE) {
      current = best.slice()
      currentTardiness = bestTardiness
      behind = 0
    }
  }
  return { order: Array.from(best), tardiness: bestTardiness, schedules: descent.passes }
}

function shake(order: Int32Array, kicks: number, random: { below(bound: number): number }): void {
  for (let kick = 0; kick < kicks; kick++) {
    const first = random.below(order.length)
    const second = random.below(order.length)
    const moved = order[first]!
    order[first] = order[second]!
    order[second] = moved
  }
}

const KICKS_LEAST = 3
const KICKS_SPREAD = 4
const ACCEPT_WORSE = 0.02
const PATIENCE = 100
