import { DAY_MIN } from '../calendar.ts'
import type { Outcome } from '../lived.ts'
import { uniform } from '../luck.ts'
import { endOf, LEVELS, mean, wasDoneBy, wasKept, type Days } from './judged.ts'

/** How far what was said of a day came true. Shares are 0..1, days are days; null where nothing was said. */
export interface Calibration {
  /** Share done by the days of 1 in 2, 4 in 5, 19 in 20. */
  readonly keptAt: readonly [number, number, number]
  /** The chance that was stated of them, on average. */
  readonly statedAt: readonly [number, number, number]
  /** Mean of (stated chance - kept)^2 over the promised days. */
  readonly brier: number
  /** Mean pinball loss of the three days, in days. */
  readonly pinball: readonly [number, number, number]
  /** Promised days by tenths of their stated chance: how many, stated on average, kept. */
  readonly bins: readonly { readonly count: number; readonly stated: number; readonly kept: number }[]
  /** Share of the orders in each tenth of the probability integral transform: 0.1 each where the days are right. */
  readonly pit: readonly number[]
}

export function calibrationOf(outcomes: readonly Outcome[]): Calibration | null {
  const said = outcomes.flatMap((outcome) => {
    const { stated, days, daysStated } = outcome.promised
    if (stated === null || days === null || daysStated === null) return []
    return [{ outcome, stated, days, daysStated, kept: wasKept(outcome) ? 1 : 0 }]
  })
  if (said.length === 0) return null
  const atLevel = (of: (index: 0 | 1 | 2) => number): [number, number, number] => [of(0), of(1), of(2)]
  const tenths = Array.from({ length: 10 }, (_, tenth) => tenth)
  const pits = said.map(({ outcome, days, daysStated }) => pitOf(outcome, days, daysStated))
  return {
    keptAt: atLevel((index) => mean(said.map(({ outcome, days }) => (wasDoneBy(outcome, days[index]) ? 1 : 0)))),
    statedAt: atLevel((index) => mean(said.map(({ daysStated }) => daysStated[index]))),
    brier: mean(said.map(({ stated, kept }) => (stated - kept) ** 2)),
    pinball: atLevel((index) =>
      mean(said.map(({ outcome, days }) => pinball(LEVELS[index], days[index], endOf(outcome)) / DAY_MIN)),
    ),
    bins: tenths.map((tenth) => {
      const inBin = said.filter(({ stated }) => Math.min(9, Math.floor(stated * 10)) === tenth)
      return {
        count: inBin.length,
        stated: inBin.length === 0 ? 0 : mean(inBin.map(({ stated }) => stated)),
        kept: inBin.length === 0 ? 0 : mean(inBin.map(({ kept }) => kept)),
      }
    }),
    pit: tenths.map((tenth) => pits.filter((at) => Math.min(9, Math.floor(at * 10)) === tenth).length / pits.length),
  }
}

/** The loss of saying `said` for a quantile when `came` came. @source Koenker & Bassett (1978) */
export const pinball = (share: number, said: number, came: number): number =>
  came >= said ? share * (came - said) : (1 - share) * (said - came)

/**
 * Where the end lies in what was said of it, 0..1. Between the days that were said it lies by the straight line; beyond the last
 * one nothing was said, and luck decides, as it does within a day.
 */
function pitOf(outcome: Outcome, days: Days, stated: Days): number {
  const from = outcome.promised.at
  // Days were said, not minutes: an end is somewhere in its day.
  const end = Math.ceil(endOf(outcome) / DAY_MIN) * DAY_MIN - DAY_MIN * uniform(`${outcome.id}/pit`)
  const edges = [{ at: from, share: 0 }, ...days.map((day, level) => ({ at: day, share: stated[level]! }))]
  for (let index = 1; index < edges.length; index++) {
    const [before, after] = [edges[index - 1]!, edges[index]!]
    if (end <= after.at && after.at > before.at)
      return before.share + ((after.share - before.share) * Math.max(0, end - before.at)) / (after.at - before.at)
  }
  return stated[2] + (1 - stated[2]) * uniform(`${outcome.id}/beyond`)
}
