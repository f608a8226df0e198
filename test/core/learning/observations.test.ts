import { describe, expect, test } from 'vitest'
import { STARTING_TIMES } from '../../../core/almanac/standard-times.ts'
import type { StepAction, StepEntry } from '../../../core/book/book.ts'
import { observe, type LoggedStep } from '../../../core/learning/observations.ts'

const RIP = { ...STARTING_TIMES.find(({ operation }) => operation === 'rip-strips')!, perUnitMin: 2 }
/** 20 strips, 40 minutes by the book. */
const strips = (id: string): LoggedStep => ({
  ...{ id, commissionId: 'c', operation: 'rip-strips', name: 'Rip the strips', minutes: 25 },
  units: { count: 20, eachMin: 1.25 },
  setUp: { family: 'rip-saw', minutes: 10 },
})
const SEVEN_PM = Date.UTC(2026, 9, 6, 19) / 60_000

let number = 0
const log = (stepId: string, ...presses: [kind: 'started' | 'paused' | 'done', after: number][]): StepEntry[] =>
  presses.map(([kind, after]) => ({
    ...{ id: ++number, atMin: SEVEN_PM + after, stepId, makerId: 'wren' },
    action: (kind === 'started' ? { kind, setUpMin: 10 } : { kind }) satisfies StepAction,
  }))

const look = (entries: readonly StepEntry[], choices: Parameters<typeof observe>[3] = { entries: [] }) =>
  observe([strips('a'), strips('b')], entries, () => RIP, choices, 'UTC')

describe('what the log says of how long a step took', () => {
  test('is what was worked, pauses and set-up apart, on units by the book of today', () => {
    const { observations } = look(log('a', ['started', 0], ['paused', 40], ['started', 60], ['done', 90]))
    expect(observations).toHaveLength(1)
    // 70 minutes, 10 of them set-up, for 20 strips at 2 minutes.
    expect(Math.exp(observations[0]!.y)).toBeCloseTo(60 / 40, 10)
  })

  test('entered without a start it has the set-up that was kept with it, none where another step had it already', () => {
    const done = (setUpMin: number): StepEntry => ({
      ...{ id: ++number, atMin: SEVEN_PM, stepId: 'a', makerId: 'wren' },
      action: { kind: 'done', workedMin: 60, setUpMin },
    })
    const learned = (entry: StepEntry) => Math.exp(look([entry]).observations[0]!.y) * 40
    expect(learned(done(0))).toBeCloseTo(60, 10)
    expect(learned(done(10))).toBeCloseTo(50, 10)
  })

  test.each([
    ['done without a start', 'no-start', log('a', ['done', 30])],
    ['written up afterwards', 'too-short', log('a', ['started', 0], ['done', 12])],
    ['no pause for more than six hours', 'too-long', log('a', ['started', -420], ['done', 0])],
    ['left running overnight', 'through-the-night', log('a', ['started', 60], ['done', 24 * 60])],
  ] as const)('is left out where it was %s', (_, why, entries) => {
    const { observations, leftOut } = look(entries)
    expect(observations).toEqual([])
    expect(leftOut.map((one) => one.why)).toEqual([why])
  })

  test('a press that came some minutes late costs both steps half of the overlap, a long overlap both', () => {
    const short = look([...log('a', ['started', 0], ['done', 68]), ...log('b', ['started', 60], ['done', 128])])
    expect(short.observations.map(({ y }) => Math.round(Math.exp(y) * 40))).toEqual([54, 54])
    const long = look([...log('a', ['started', 0], ['done', 80]), ...log('b', ['started', 60], ['done', 128])])
    expect(long.leftOut.map(({ why }) => why)).toEqual(['two-at-once', 'two-at-once'])
  })

  test('counts again when the maker puts it back, but for one without any minutes', () => {
    const entries = [...log('a', ['started', 60], ['done', 24 * 60]), ...log('b', ['done', 30])]
    const choice = 'count' as const
    const choices = { entries: ['a', 'b'].map((stepId) => ({ stepId, choice })) }
    const { observations, leftOut } = look(entries, choices)
    expect(observations.map(({ stepId }) => stepId)).toEqual(['a'])
    expect(leftOut).toMatchObject([{ stepId: 'b', canCount: false }])
  })

  test('is left out where its work began with the remedy of a window that had closed, however it was entered', () => {
    const begun = log('a', ['started', 0], ['done', 70])
    const late = begun.map((entry) =>
      entry.action.kind === 'started' ? { ...entry, action: { ...entry.action, remedy: true as const } } : entry,
    )
    expect(look(begun).leftOut).toEqual([])
    expect(look(late)).toMatchObject({ observations: [], leftOut: [{ why: 'remedy', canCount: true }] })
    const counted = { entries: [{ stepId: 'a', choice: 'count' as const }] }
    expect(look(late, counted).observations).toEqual(look(begun).observations)
    const afterwards: StepEntry = { ...begun[1]!, action: { kind: 'done', workedMin: 60, setUpMin: 0, remedy: true } }
    expect(look([afterwards]).leftOut).toMatchObject([{ why: 'remedy' }])
  })

  test('is left out when the maker says so, and comes back as if nothing had been', () => {
    const entries = log('a', ['started', 0], ['done', 70])
    expect(look(entries, { entries: [{ stepId: 'a', choice: 'leave-out' }] }).leftOut[0]?.why).toBe('by-you')
    expect(look(entries).observations).toHaveLength(1)
  })
})
