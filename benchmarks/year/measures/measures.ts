import type { Outcome } from '../lived.ts'
import { calibrationOf, type Calibration } from './calibration.ts'
import { daysOff, daysPromised, firstTaken, judged, mean, quantile, wasDoneBy, wasKept, won } from './judged.ts'

/** What a year came to, pooled over shops. Shares 0..1, times in days unless said otherwise. */
export interface Measures {
  readonly asked: number
  readonly won: number
  readonly hoursWon: number
  readonly kept: number
  readonly calibration: Calibration | null
  /** Of everybody who asked, whether they stayed or not, and of those who stayed. */
  readonly promisedToAll: { readonly mean: number; readonly ninety: number }
  readonly promised: { readonly mean: number; readonly ninety: number }
  readonly late: {
    readonly mean: number
    readonly meanOfLate: number
    readonly ninetyFiveOfLate: number
    readonly most: number
  }
  readonly early: number
  readonly undone: number
  /** Promises of others that offers pushed below the guard; null: nobody looked. */
  readonly pushed: number | null
  /** Share of the first ten orders of each shop that were done by the day of 4 in 5; null: nothing was said. */
  readonly firstTen: number | null
  /** (day of 1 in 2 - day of the plan) / planned lead time; null where there is no plan. */
  readonly halfBeyondPlan: number | null
}

/** @param shops what came of the customers of each shop */
export function measuresOf(shops: readonly (readonly Outcome[])[]): Measures {
  const all = shops.flatMap(judged)
  const taken = shops.flatMap(won)
  const off = taken.map(daysOff)
  const late = off.filter((days) => days > 0)
  const span = (outcomes: readonly Outcome[]) => {
    const days = outcomes.map(daysPromised)
    return { mean: mean(days), ninety: quantile(days, 0.9) }
  }
  const pushed = taken.map(({ promised }) => promised.pushed).filter((count) => count !== null)
  return {
    asked: all.length,
    won: taken.length,
    hoursWon: taken.reduce((sum, { handsOnMin }) => sum + handsOnMin / 60, 0),
    kept: mean(taken.map((outcome) => (wasKept(outcome) ? 1 : 0))),
    calibration: calibrationOf(taken),
    promisedToAll: span(all),
    promised: span(taken),
    late: {
      mean: mean(off.map((days) => Math.max(0, days))),
      meanOfLate: late.length === 0 ? 0 : mean(late),
      ninetyFiveOfLate: late.length === 0 ? 0 : quantile(late, 0.95),
      most: Math.max(0, ...late),
    },
    early: mean(off.map((days) => Math.max(0, -days))),
    undone: taken.filter(({ doneAt }) => doneAt === null).length,
    pushed: pushed.length === 0 ? null : pushed.reduce((sum, count) => sum + count, 0),
    firstTen: firstTenKept(shops),
    halfBeyondPlan: halfBeyondPlan(taken),
  }
}

function firstTenKept(shops: readonly (readonly Outcome[])[]): number | null {
  const said = shops
    .flatMap((outcomes) => firstTaken(outcomes, 10))
    .flatMap((outcome) =>
      outcome.promised.days === null ? [] : [wasDoneBy(outcome, outcome.promised.days[1]) ? 1 : 0],
    )
  return said.length === 0 ? null : mean(said)
}

function halfBeyondPlan(taken: readonly Outcome[]): number | null {
  const shares = taken.flatMap(({ promised: { at, days, plannedAt } }) =>
    days === null || plannedAt === null || plannedAt <= at ? [] : [(days[0] - plannedAt) / (plannedAt - at)],
  )
  return shares.length === 0 ? null : mean(shares)
}
