import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { attendanceFrom } from '../../../core/learning/attendance.ts'
import { pressesOf } from '../../../core/learning/presses.ts'
import type { StepAction } from '../../../core/book/book.ts'
import {
  estimateTimes,
  momentVariance,
  updatedScale,
  type EstimatedFrom,
  type Observation,
} from '../../../core/learning/estimate-times.ts'
import { jointEffects } from '../../../core/learning/joint-effects.ts'
import { drawTimes, priorTimes, type TimesModel } from '../../../core/learning/index.ts'
import { atOnce } from '../../support/at-once.ts'

const NO_PRIOR = 1e5

describe('the weighing of several groups', () => {
  // D. B. Rubin, "Estimation in parallel randomized experiments", J. Educational Statistics 6 (1981): eight schools.
  const y = [28, 8, -3, 7, -1, 1, 18, 12]
  const se = [15, 10, 16, 11, 9, 11, 10, 18]
  const schools = (operationSd: number) =>
    jointEffects(
      y.map((value, operation) => ({ maker: 0, operation, order: null, y: value, precision: 1 / se[operation]! ** 2 })),
      1,
      8,
      { makerSd: NO_PRIOR, operationSd, orderSd: 1 },
    )

  test('eight schools that do not differ have their pooled effect', () => {
    const { means, covariance } = schools(1e-4)
    expect(means[0]).toBeCloseTo(7.686, 3)
    expect(Math.sqrt(covariance[0]![0]!)).toBeCloseTo(4.072, 3)
  })

  // Computed with NumPy from the published figures.
  test.each([
    [5, [9.87, 7.88, 6.89, 7.71, 5.76, 6.68, 9.88, 8.15]],
    [10, [14.24, 8.06, 5.0, 7.62, 3.08, 4.9, 13.06, 9.04]],
  ])('eight schools that differ by %d are shrunk as far as their errors ask', (tau, expected) => {
    const { means } = schools(tau)
    for (const [at, effect] of expected.entries()) expect(means[0]! + means[at + 1]!).toBeCloseTo(effect, 2)
  })

  test('batting averages of 45 at-bats are shrunk, and come nearer to the rest of the season', () => {
    // B. Efron, C. Morris, "Data analysis using Stein's estimator and its generalizations", JASA 70 (1975), table 1.
    const early = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7].map((hits) => hits / 45)
    const rest = [
      0.346, 0.298, 0.276, 0.222, 0.273, 0.27, 0.263, 0.21, 0.269, 0.23, 0.264, 0.256, 0.303, 0.264, 0.226, 0.285,
      0.316, 0.2,
    ]
    const middle = early.reduce((sum, value) => sum + value, 0) / early.length
    const variance = (middle * (1 - middle)) / 45
    const tau2 = momentVariance(early.map((mean) => ({ mean, variance })))
    expect(tau2 / (tau2 + variance)).toBeCloseTo(0.2117, 4)
    const { means } = jointEffects(
      early.map((value, operation) => ({ maker: 0, operation, order: null, y: value, precision: 1 / variance })),
      1,
      18,
      { makerSd: NO_PRIOR, operationSd: Math.sqrt(tau2), orderSd: 1 },
    )
    const shrunk = early.map((_, at) => means[0]! + means[at + 1]!)
    expect(shrunk[0]).toBeCloseTo(0.2939, 4)
    expect(shrunk[17]).toBeCloseTo(0.2422, 4)
    const error = (values: readonly number[]) => values.reduce((sum, value, at) => sum + (value - rest[at]!) ** 2, 0)
    expect(error(early)).toBeCloseTo(0.0753, 4)
    expect(error(shrunk)).toBeCloseTo(0.0213, 4)
  })

  test('the noise of five pieces is that of the normal-inverse-gamma prior', () => {
    // m0 0, k0 4, a0 3, b0 0.1875: computed with SciPy.
    const pieces = [52, 47, 61, 55, 49].map((minutes) => Math.log(minutes / 40))
    const mean = pieces.reduce((sum, value) => sum + value, 0) / pieces.length
    const { means } = jointEffects(
      pieces.map((value) => ({ maker: 0, operation: 0, order: null, y: value, precision: 1 })),
      1,
      1,
      { makerSd: 1e-6, operationSd: 1 / 2, orderSd: 1 },
    )
    expect(means[1]).toBeCloseTo(0.151891, 5)
    const squares = pieces.reduce((sum, value) => sum + (value - mean) ** 2, 0) + (4 * 5 * mean ** 2) / 9
    expect(updatedScale(0.25, 5, squares) * Math.sqrt(10 / 9)).toBeCloseTo(0.242646, 6)
  })
})

const operations = ['rip', 'sand', 'mill', 'glue', 'coat'].map((id) => ({
  id,
  optimisticFactor: 0.75,
  pessimisticFactor: 1.5,
}))
const NOW = 29_500_000
const piece = (stepId: string, operation: string, factor: number, daysAgo = 0): Observation => ({
  ...{ stepId, operation, commissionId: `c-${stepId}`, makerId: 'wren', y: Math.log(factor) },
  atMin: NOW - daysAgo * 1440,
})
const from = (observations: readonly Observation[]): EstimatedFrom => ({
  ...{ makers: ['wren'], operations, observations, said: [], now: NOW },
})
/** The factor on an operation's steps with even luck. */
const evenly = (times: TimesModel, operation: string): number =>
  drawTimes(times, 1, () => Float64Array.of(0.5))({ id: 's', operation, commission: 'c', maker: 'wren' })[0]!
const factorOf = (observations: readonly Observation[], operation = 'rip') =>
  evenly(atOnce(estimateTimes(from(observations))), operation)

const anyPieces = fc
  .array(
    fc.tuple(
      fc.constantFrom(...operations.map(({ id }) => id)),
      fc.double({ min: 0.2, max: 5, noNaN: true }),
      fc.nat(900),
    ),
    {
      minLength: 1,
      maxLength: 25,
    },
  )
  .map((made) => made.map(([operation, factor, days], at) => piece(`s${at}`, operation, factor, days)))

describe('times learned from the log', () => {
  test('without pieces they are the prior', () => {
    expect(atOnce(estimateTimes(from([])))).toEqual(priorTimes(['wren'], operations))
  })

  test('are worked out in parts, between which others may have their turn', () => {
    expect([...estimateTimes(from([piece('s1', 'rip', 1.2)]))].length).toBeGreaterThanOrEqual(10)
    expect([...estimateTimes(from([]))]).toEqual([])
  })

  test('the same pieces in any order give the same times', () => {
    fc.assert(
      fc.property(anyPieces, fc.infiniteStream(fc.nat()), (pieces, keys) => {
        const shuffled = pieces.map((one) => ({ one, key: keys.next().value as number }))
        shuffled.sort((a, b) => a.key - b.key)
        expect(atOnce(estimateTimes(from(shuffled.map(({ one }) => one))))).toEqual(atOnce(estimateTimes(from(pieces))))
      }),
      { numRuns: 30 },
    )
  })

  test.each([5, 8, 20])('one slip of ten times moves the factor by less than a tenth after %d pieces', (count) => {
    const pieces = Array.from({ length: count }, (_, at) => piece(`s${at}`, 'rip', 1.2 + 0.1 * Math.sin(at)))
    for (const slip of [12, 0.12]) {
      const moved = factorOf([...pieces, piece('slip', 'rip', slip)]) / factorOf(pieces)
      expect(Math.abs(moved - 1)).toBeLessThan(0.1)
    }
  })

  test('many slow pieces at one thing say how slow it is, and that others are slow as well', () => {
    const pieces = Array.from({ length: 30 }, (_, at) => piece(`s${at}`, 'rip', 1.5))
    expect(factorOf(pieces)).toBeGreaterThan(1.42)
    expect(factorOf(pieces)).toBeLessThan(1.5)
    expect(factorOf(pieces, 'sand')).toBeGreaterThan(1.1)
  })

  test('what was long ago counts less', () => {
    const old = [0, 1, 2, 3].map((at) => piece(`old${at}`, 'rip', 2, 1500))
    const late = [0, 1, 2, 3].map((at) => piece(`late${at}`, 'rip', 1))
    expect(factorOf([...old, ...late])).toBeLessThan(1.3)
  })

  test('knowing more of an operation leaves less of it to chance', () => {
    const spread = (count: number) => {
      const model = atOnce(estimateTimes(from(Array.from({ length: count }, (_, at) => piece(`s${at}`, 'rip', 1.2)))))
      return model.operations[0]!.sd
    }
    expect(spread(3)).toBeGreaterThan(spread(12))
  })

  test('what somebody says of himself is half believed until there are pieces', () => {
    const model = atOnce(estimateTimes({ ...from([]), said: [{ operation: 'rip', y: Math.log(2) }] }))
    const factor = evenly(model, 'rip')
    expect(factor).toBeGreaterThan(1.3)
    expect(factor).toBeLessThan(1.8)
  })
})

const pressed =
  (kind: 'started' | 'paused' | 'done') =>
  (instants: readonly number[]): { readonly atMin: number; readonly action: StepAction }[] =>
    instants.map((atMin) => ({ atMin, action: { kind } }))
/** Something to do at all times. */
const ALWAYS = [{ from: 0, to: 500 * 1440 }]

const doneAt = (instants: readonly number[]) => pressesOf(pressed('done')(instants))

test('who begins ten minutes late and puts work down a quarter of an hour before closing time works nine tenths of an evening', () => {
  const evenings = Array.from({ length: 400 }, (_, day) => ({ from: day * 1440 + 1140, to: day * 1440 + 1390 }))
  const presses = pressesOf([
    ...pressed('started')(evenings.map(({ from }) => from + 10)),
    ...pressed('done')(evenings.map(({ from }) => from + 60)),
    ...pressed('paused')(evenings.map(({ to }) => to - 15)),
  ])
  const [wren] = attendanceFrom(
    [{ id: 'wren', attendance: 0.9, hoursHeld: null, sessions: evenings, presses }],
    ALWAYS,
    401 * 1440,
  ).makers
  expect(wren!.share).toBeCloseTo(0.9, 2)
  // Without presses that tell it, it is what is usual.
  const [silent] = attendanceFrom(
    [{ id: 'wren', attendance: 0.9, hoursHeld: null, sessions: [], presses: doneAt([5]) }],
    ALWAYS,
    10,
  ).makers
  expect(silent!.share).toBe(0.95)
})

test('evenings met and missed are counted, but for a week in which nobody came at all', () => {
  const evening = (day: number) => ({ from: day * 1440 + 1140, to: day * 1440 + 1290 })
  const sessions = Array.from({ length: 28 }, (_, day) => evening(day))
  const daysWorked = [0, 1, 2, 4, 14, 15, 16, 17, 18, 27]
  const model = attendanceFrom(
    [
      {
        id: 'wren',
        attendance: 0.9,
        hoursHeld: null,
        sessions,
        presses: doneAt(daysWorked.map((day) => day * 1440 + 1200)),
      },
    ],
    ALWAYS,
    30 * 1440,
  )
  const [wren] = model.makers
  expect(wren).toMatchObject({ met: 10, missed: 11 })
  expect(wren!.rate.alpha).toBeCloseTo(18 + wren!.met)
  expect(model.lostWeek).toEqual({ alpha: 2, beta: 39 + 3 })
})

test('evenings with nothing to do are neither met nor missed, and weeks of them are not lost', () => {
  const sessions = Array.from({ length: 70 }, (_, day) => ({ from: day * 1440 + 1140, to: day * 1440 + 1290 }))
  const presses = doneAt([0, 2, 61].map((day) => day * 1440 + 1200))
  // Orders for the first four days, for the fourth week, in which nobody came, and from the afternoon of the day before the last press.
  const days = [
    [0, 4],
    [21, 28],
    [60, 62],
  ] as const
  const waiting = days.map(([from, to]) => ({ from: from * 1440 + 960, to: to * 1440 + 960 }))
  const model = attendanceFrom(
    [{ id: 'wren', attendance: 0.9, hoursHeld: null, sessions, presses }],
    waiting,
    70 * 1440,
  )
  // Missed: days 1 and 3 of the first week, day 60.
  expect(model.makers[0]).toMatchObject({ met: 3, missed: 3 })
  expect(model.lostWeek).toEqual({ alpha: 1 + 1, beta: 39 + 2 })
})
