import type { Almanac } from '../../core/almanac/almanac.ts'
import type { PlanningSetting } from '../../core/book/planning-setting.ts'
import type { OddsDays } from '../../core/book/promise.ts'
import { chanceBy, type Odds } from '../../core/planning/index.ts'
import { localDay, type LocalDay } from '../../core/time/local-day.ts'

/** What tells the days of a shop. */
interface ShopDays {
  readonly almanac: Pick<Almanac, 'shop'>
  readonly setting: Pick<PlanningSetting, 'endOfDay'>
}

/** The chance, 0..1, that it is done by the end of a day. */
interface DayChance {
  readonly day: LocalDay
  readonly chance: number
}

/** Instants by which it is done 1 in 2, 4 in 5 and 19 in 20 times. */
export interface OddsView {
  readonly p50At: number
  readonly p80At: number
  readonly p95At: number
  /** The days of these instants, each once: a day whose chance reaches 4 in 5 may have more. */
  readonly days: readonly DayChance[]
  readonly replications: number
}

/** Replications behind the odds of a date: with 200 the chance of a "4 in 5" day is known to within 5 points, 19 times in 20. */
export const replications = 200

export function oddsView(odds: Odds | null, { almanac, setting }: ShopDays): OddsView | null {
  if (odds === null) return null
  const days = new Set(Object.values(oddsDays(odds, almanac.shop.timeZone)))
  return {
    p50At: odds.reached50,
    p80At: odds.reached80,
    p95At: odds.reached95,
    days: [...days].map((day) => ({ day, chance: chanceBy(odds, setting.endOfDay(day)) })),
    replications: odds.replications,
  }
}

/** Days by whose end it is done 1 in 2, 4 in 5 and 19 in 20 times. */
export const oddsDays = (odds: Odds, timeZone: string): OddsDays => ({
  half: localDay(odds.reached50, timeZone),
  fourInFive: localDay(odds.reached80, timeZone),
  nineteenInTwenty: localDay(odds.reached95, timeZone),
})
