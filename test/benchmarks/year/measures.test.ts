import { describe, expect, it } from 'vitest'
import { calibrationOf, pinball } from '../../../benchmarks/year/measures/calibration.ts'
import { overWorlds } from '../../../benchmarks/year/over-worlds.ts'
import { measuresOf } from '../../../benchmarks/year/measures/measures.ts'
import { pairedRatio } from '../../../benchmarks/year/measures/paired.ts'
import { DAY_MIN, FIRST_JUDGED_DAY } from '../../../benchmarks/year/calendar.ts'
import type { Outcome } from '../../../benchmarks/year/lived.ts'

const at = FIRST_JUDGED_DAY * DAY_MIN
const in_ = (days: number): number => at + days * DAY_MIN

/** Promised for 20 days ahead, 1 in 2 after 15, 19 in 20 after 30; done after so many days, null: never. */
const outcome = (id: string, done: number | null, more: Partial<Outcome> = {}): Outcome => ({
  ...{ id, askedAt: at, handsOnMin: 300, stayed: true, doneAt: done === null ? null : in_(done) },
  promised: {
    at,
    dueAt: in_(20),
    stated: 0.8,
    alone: null,
    days: [in_(15), in_(20), in_(30)],
    daysStated: [0.5, 0.8, 0.95],
    plannedAt: in_(12),
    pushed: 0,
  },
  ...more,
})

describe('what a year came to', () => {
  it('counts kept, late and early days, and takes what is never done as 60 days late', () => {
    const measures = measuresOf([
      [outcome('a', 10), outcome('b', 18)],
      [outcome('c', 24), outcome('d', null)],
    ])
    expect(measures).toMatchObject({ asked: 4, won: 4, hoursWon: 20, kept: 0.5, undone: 1, pushed: 0 })
    expect(measures.promised).toEqual({ mean: 20, ninety: 20 })
    // Late 0, 0, 4 and 60 days; early 10, 2, 0, 0.
    expect(measures.late).toEqual({ mean: 16, meanOfLate: 32, ninetyFiveOfLate: 60, most: 60 })
    expect(measures.early).toBe(3)
    // (15 - 12) / 12
    expect(measures.halfBeyondPlan).toBe(0.25)
  })

  it('leaves out history, and those who left but for the days they were told', () => {
    const before = outcome('a', 10, { askedAt: at - DAY_MIN })
    const left = outcome('b', null, { stayed: false })
    const measures = measuresOf([[before, left, outcome('c', 18)]])
    expect(measures).toMatchObject({ asked: 2, won: 1, kept: 1 })
    // Of the shop's first orders both that were taken count, history or not.
    expect(measures.firstTen).toBe(1)
  })
})

describe('how far what was said came true', () => {
  const said = [outcome('a', 10), outcome('b', 18), outcome('c', 24), outcome('d', 40)]
  const calibration = calibrationOf(said)!

  it('counts what was done by each of the three days', () => {
    expect(calibration.keptAt).toEqual([0.25, 0.5, 0.75])
    expect(calibration.statedAt).toEqual([0.5, 0.8, 0.95])
    expect(calibration.bins[8]).toEqual({ count: 4, stated: 0.8, kept: 0.5 })
    // (0.2^2 + 0.2^2 + 0.8^2 + 0.8^2) / 4
    expect(calibration.brier).toBeCloseTo(0.34, 12)
  })

  it('weighs days that were too near and too far', () => {
    expect(pinball(0.8, 20, 24)).toBeCloseTo(3.2, 12)
    expect(pinball(0.8, 20, 10)).toBeCloseTo(2, 12)
    // Of 1 in 2 after 15 days: 5/2, 3/2, 9/2, 25/2, on average.
    expect(calibration.pinball[0]).toBeCloseTo(5.25, 12)
  })

  it('puts each end into its tenth of what was said', () => {
    expect(calibration.pit.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12)
    // After 10 of 15 days: 0.5 x 10/15 = 0.33, less up to 0.5/15 within the day; after 18: 0.5 + 0.3 x 3/5 = 0.68.
    expect(calibration.pit.map((share) => share * 4)).toEqual([0, 0, 0, 1, 0, 0, 1, 0, 1, 1])
  })

  it('is nothing where nothing was said', () => {
    const { promised } = outcome('a', 1)
    expect(calibrationOf([outcome('a', 1, { promised: { ...promised, stated: null } })])).toBeNull()
  })
})

describe('two policies shop by shop', () => {
  it('are compared by the geometric mean of their ratios, with an interval from the shops', () => {
    const { ratio, within } = pairedRatio([2, 8], [1, 1])
    expect(ratio).toBeCloseTo(4, 12)
    // Logarithms ln 4 +- ln 2: standard deviation ln 2 x sqrt 2, times 12.706 / sqrt 2.
    expect(Math.log(within)).toBeCloseTo(12.706 * Math.log(2), 9)
  })
})

describe('several worlds', () => {
  it('are pooled order by order, and the worst is named', () => {
    const answer = (world: string, shop: readonly Outcome[]) => ({
      ...{ world, door: 'leave' as const, seeds: [1], atEqualShare: [] },
      policies: [{ policy: 'ours', measures: measuresOf([shop]) }],
    })
    const mild = answer('mild', [outcome('a', 10), outcome('b', 18), outcome('c', 19)])
    const slow = answer('slow', [outcome('d', 40)])
    const [pooled] = overWorlds([mild, slow])
    // One of four by the day of 1 in 2, three by the other two; the slow world keeps none of its 4 in 5.
    expect(pooled!.points.map((points) => Math.round(points))).toEqual([-25, -5, -20])
    expect(pooled!.worst).toEqual({ world: 'slow', points: -80 })
  })
})
