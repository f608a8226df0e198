import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { normalQuantile, normalShare } from '../../../core/chance/quantiles.ts'
import { lessSureByRecord, ordersPerWeek, type CameTrue } from '../../../core/learning/index.ts'
import { chanceAloneBy, chanceBy, plan, simulate } from '../../../core/planning/index.ts'
import { asTold } from '../../../core/planning/odds/as-told.ts'
import { uniform } from '../../../benchmarks/year/luck.ts'
import { generateOrderBook } from '../../../benchmarks/generate-order-book.ts'
import { believedOf } from './forecasts.ts'

const WEEK = 7 * 1440

describe('a chance with the orders that are expected later', () => {
  const chance = fc.double({ min: 0.001, max: 0.999, noNaN: true })
  const rate = fc.double({ min: 0, max: 20, noNaN: true })
  const weeks = fc.double({ min: 0, max: 52, noNaN: true })

  test('is never more than without them, less the more of them, and in the same order as without', () => {
    fc.assert(
      fc.property(chance, chance, rate, weeks, (one, other, perWeek, ahead) => {
        const later = { from: 1000, ordersPerWeek: perWeek, lessSure: 0 }
        const at = 1000 + ahead * WEEK
        const [low, high] = [Math.min(one, other), Math.max(one, other)]
        expect(asTold(low, at, later)).toBeLessThanOrEqual(low + 1e-6)
        expect(asTold(low, at + WEEK, later)).toBeLessThanOrEqual(asTold(low, at, later) + 1e-6)
        expect(asTold(low, at, later)).toBeLessThanOrEqual(asTold(high, at, later) + 1e-6)
      }),
    )
  })

  test('is what it was where none are expected, where the day is past, and where nothing is open any more', () => {
    expect(asTold(0.8, 5 * WEEK, { from: 0, ordersPerWeek: 0, lessSure: 0 })).toBe(0.8)
    expect(asTold(0.8, 0, { from: WEEK, ordersPerWeek: 3, lessSure: 0 })).toBe(0.8)
    expect(asTold(1, 5 * WEEK, { from: 0, ordersPerWeek: 3, lessSure: 0 })).toBe(1)
    expect(asTold(0, 5 * WEEK, { from: 0, ordersPerWeek: 3, lessSure: 0 })).toBe(0)
  })
})

// Table of the normal: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1.
test.each([
  [0, 0.5],
  [0.84, 0.79955],
  [1.96, 0.975],
  [-1.28, 0.10027],
])('of a standard normal the share up to %f is %f', (value, share) => {
  expect(normalShare(value)).toBeCloseTo(share, 5)
  expect(normalQuantile(normalShare(value))).toBeCloseTo(value, 5)
})

describe('orders in a week', () => {
  const weekly = (count: number, until: number): number[] =>
    Array.from({ length: count }, (_, index) => until - index * WEEK)

  test('are two before any was taken, and what was taken in the last eight weeks counts for more and more', () => {
    expect(ordersPerWeek([], 0)).toBe(2)
    // (4 believed + 1 taken) in (2 believed + 0 weeks).
    expect(ordersPerWeek([500], 500)).toBe(2.5)
    const now = 100 * WEEK
    // One a week for 60 weeks: (4 + 8) in (2 + 8).
    expect(ordersPerWeek(weekly(60, now), now)).toBeCloseTo(1.2, 10)
    expect(ordersPerWeek(weekly(60, now - 20 * WEEK), now)).toBeCloseTo(0.4, 10)
  })
})

describe('the record of a shop', () => {
  const record = (count: number, kept: (at: number) => boolean, stated = 0.8) =>
    Array.from({ length: count }, (_, at) => ({ stated, kept: kept(at) }))

  test('says nothing before twenty promises, and nothing where as many came true as was stated', () => {
    expect(lessSureByRecord(record(19, () => false))).toBe(0)
    // Missed 1 in 5, in turn: the share asked for moves by 0.01 x (0.2 - 1) and back by four times 0.01 x 0.2.
    expect(lessSureByRecord(record(40, (at) => at % 5 !== 0))).toBeCloseTo(0, 10)
  })

  test('makes a shop less sure that misses more than it stated, and surer one that keeps more, within bounds', () => {
    // Ten misses more than the four expected of 20: 0.2 + 0.01 x (20 x 0.2 - 14) = 0.1.
    expect(lessSureByRecord(record(20, (at) => at < 6))).toBeCloseTo(normalQuantile(0.9) - normalQuantile(0.8), 10)
    expect(lessSureByRecord(record(500, () => true))).toBeCloseTo(normalQuantile(0.6) - normalQuantile(0.8), 10)
  })

  // Gibbs & Candes (2021), proposition 4.1: the share missed of n is within (1 + step) / (step x n) of what was asked for, 0.05 of 2,000.
  test.each([-0.5, -0.3, 0, 0.5, 0.7])(
    'brings the share that is missed to what was asked for where the model is wrong by %f standard deviations',
    (wrongBy) => {
      const promises: CameTrue[] = []
      for (let at = 0; at < 2000; at++) {
        const truly = normalShare(normalQuantile(0.8) + lessSureByRecord(promises) - wrongBy)
        promises.push({ stated: 0.8, kept: uniform(`${wrongBy} ${at}`) < truly })
      }
      const missed = promises.slice(20).filter(({ kept }) => !kept).length / 1980
      expect(Math.abs(missed - 0.2)).toBeLessThan(1.01 / (0.01 * 1980))
    },
  )

  test('moves every chance the same way, and leaves what is certain', () => {
    const told = (alone: number, lessSure: number) => asTold(alone, 5, { from: 0, ordersPerWeek: 0, lessSure })
    expect(told(0.8, 0.5)).toBeLessThan(0.8)
    expect(told(0.8, -0.5)).toBeGreaterThan(0.8)
    expect([told(1, 0.5), told(0, -0.5)]).toEqual([1, 0])
  })
})

describe('odds', () => {
  const book = generateOrderBook(3, 4)
  const made = plan(book)
  if (!made.ok) throw new Error('refused')
  const believed = believedOf(book, 0.9)
  const oddsAt = (perWeek: number) =>
    simulate(book, made.value, { replications: 80, forecast: { ...believed, ordersPerWeek: perWeek } }).map(
      ({ odds }) => odds,
    )

  test('leave room for the orders that a busy shop takes: days move back, and chances never fall from day to day', () => {
    const none = oddsAt(0)
    for (const [at, odds] of oddsAt(15).entries()) {
      expect(odds.done).toEqual(none[at]!.done)
      expect(odds.reached80).toBeGreaterThanOrEqual(none[at]!.reached80)
      expect(chanceBy(odds, odds.reached80)).toBeGreaterThanOrEqual(0.8)
      expect(chanceBy(odds, odds.reached50)).toBeLessThanOrEqual(chanceAloneBy(odds, odds.reached50))
      expect(odds.chances.every((chance, run) => chance >= (odds.chances[run - 1] ?? 0))).toBe(true)
      expect(odds.chances.at(-1)).toBe(1)
    }
    const further = (odds: (typeof none)[number], at: number): number => odds.reached80 - none[at]!.reached80
    expect(Math.max(...oddsAt(15).map(further))).toBeGreaterThan(1440)
  })

  test('are those of the plan alone where nobody comes', () => {
    for (const odds of oddsAt(0)) expect(chanceBy(odds, odds.reached80)).toBe(chanceAloneBy(odds, odds.reached80))
  })
})
