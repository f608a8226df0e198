import type { OddsDays } from '../../core/book/promise.ts'
import type { Odds } from '../../core/planning/index.ts'
import { localDay } from '../../core/time/local-day.ts'

/** Instants by which it is done 1 in 2, 4 in 5 and 19 in 20 times. */
export interface OddsView {
  readonly p50At: number
  readonly p80At: number
  readonly p95At: number
  readonly replications: number
}

/** Replications behind the odds of a date: with 200 the chance of a "4 in 5" day is known to within 5 points, 19 times in 20. */
export const replications = 200

export const oddsView = (odds: Odds | null): OddsView | null =>
  odds && {
    p50At: odds.reached50,
    p80At: odds.reached80,
    p95At: odds.reached95,
    replications: odds.replications,
  }

/** Days by whose end it is done 1 in 2, 4 in 5 and 19 in 20 times. */
export const oddsDays = (odds: Odds, timeZone: string): OddsDays => ({
  half: localDay(odds.reached50, timeZone),
  fourInFive: localDay(odds.reached80, timeZone),
  nineteenInTwenty: localDay(odds.reached95, timeZone),
})
