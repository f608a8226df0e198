import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { StepAction, StepEntry } from '../../../core/book/book.ts'
import { isWorthAsking, waitRecords, waitsTaken, type LoggedWait } from '../../../core/learning/waits-taken.ts'

const HOUR = 60
const DAY = 24 * HOUR

const WAIT: LoggedWait = { fromStep: 'coat', toStep: 'next', wait: 'drying', product: 'oil', minMin: DAY }

const entry = (id: number, atMin: number, stepId: string, action: StepAction): StepEntry => ({
  ...{ id, atMin, stepId, makerId: null, action },
})
const done = (at: number): StepEntry => entry(1, at, 'coat', { kind: 'done' })
const tacky = (at: number): StepEntry => entry(2, at, 'next', { kind: 'still-tacky', untilMin: at + HOUR })
const ready = (at: number): StepEntry =>
  entry(3, at, 'next', { kind: 'found-ready', afterStep: 'coat', wait: 'drying', minMin: DAY })
const started = (at: number): StepEntry => entry(4, at, 'next', { kind: 'started' })

const ratio = (entries: readonly StepEntry[], rate = 1): number | undefined =>
  waitsTaken([WAIT], entries, () => [{ from: 0, rate }])[0]?.ratio

describe('what a wait took', () => {
  test('lies half-way between the last look that found it tacky and the one that found it ready', () => {
    expect(ratio([done(0), tacky(DAY), tacky(1.25 * DAY), ready(1.75 * DAY)])).toBe(1.5)
  })

  test('ends at the start of what follows where nobody said that it was ready', () => {
    expect(ratio([done(0), tacky(DAY), started(2 * DAY)])).toBe(1.5)
  })

  test('is less than its figure where it was found ready before its time', () => {
    expect(ratio([done(0), ready(0.5 * DAY)])).toBe(0.5)
  })

  test('is counted in the air where it stood: a cold night does not make the label wrong', () => {
    expect(ratio([done(0), tacky(2 * DAY), ready(2 * DAY + 1)], 0.5)).toBeCloseTo(1, 2)
  })

  test('is unknown where nobody looked, or looked only once and found it tacky', () => {
    expect(ratio([done(0), started(3 * DAY)])).toBeUndefined()
    expect(ratio([done(0), tacky(DAY)])).toBeUndefined()
  })

  test('is never longer because somebody came late and found it ready', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 90 * DAY }), (at) => {
        const found = ratio([done(0), ready(at)])!
        expect(found).toBeGreaterThan(0)
        expect(found).toBeLessThanOrEqual(1)
      }),
    )
  })
})

describe('the maker is asked', () => {
  const looked = (...ratios: number[]) =>
    waitRecords(ratios.map((one) => ({ product: 'oil', wait: 'drying' as const, ratio: one, readyAt: 0 })))[0]!

  test('after three of a kind, and goes by the middle one, whatever a single odd one says', () => {
    expect(isWorthAsking(looked(1.4, 1.5), undefined)).toBe(false)
    expect(looked(1.4, 9, 1.5)).toMatchObject({ count: 3, factor: 1.5 })
    expect(isWorthAsking(looked(1.4, 9, 1.5), undefined)).toBe(true)
  })

  test('not where it is as the label says, and not again before three more that differ from what was decided', () => {
    expect(isWorthAsking(looked(1, 1.05, 0.95), undefined)).toBe(false)
    const decided = { product: 'oil', wait: 'drying', use: 'label', factor: 1.5, count: 3 } as const
    expect(isWorthAsking(looked(1.5, 1.5, 1.5, 1.5, 1.5), decided)).toBe(false)
    expect(isWorthAsking(looked(1.5, 1.5, 1.5, 1.5, 1.5, 1.5), decided)).toBe(true)
    expect(isWorthAsking(looked(1.5, 1.5, 1.5, 1.5, 1.5, 1.5), { ...decided, use: 'own' })).toBe(false)
  })
})
