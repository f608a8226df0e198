import { describe, expect, test } from 'vitest'
import type { PromiseRecord } from '../../../core/book/promise.ts'
import { judgedPromises, NEWEST_OF_A_TENTH, tenthsOfPromises } from '../../../core/tally/kept-promises.ts'

const NOON_MS = Date.UTC(2026, 2, 10, 12)
const DAY_MS = 86_400_000

const given = (day: string | null, more: Partial<PromiseRecord> = {}): PromiseRecord => ({
  ...{
    commissionId: 'a',
    kind: 'promise',
    givenAtMs: NOON_MS,
    day,
    chance: 0.83,
    chanceAlone: null,
    days: null,
    plannedDay: null,
  },
  ...{ offer: null, times: 'book', wantedBy: 'customer', why: '', goodUntil: null },
  ...more,
})

const judge = (finishedOn: string | null, records: readonly PromiseRecord[], more = {}, today = '2026-04-30') =>
  judgedPromises([{ commissionId: 'a', handedOverAtMs: null, finishedOn, ...more }], records, today)

describe('a promise', () => {
  test('is kept when everything was finished by the end of the promised day', () => {
    expect(judge('2026-03-20', [given('2026-03-20')])).toMatchObject([{ kept: true, daysLate: 0 }])
    expect(judge('2026-03-23', [given('2026-03-20')])).toMatchObject([{ kept: false, daysLate: 3 }])
  })

  test('is the one in force when it was handed over, whatever was given afterwards', () => {
    const records = [
      given('2026-03-20'),
      given('2026-03-25', { givenAtMs: NOON_MS + DAY_MS, wantedBy: 'maker', why: 'Saw broke' }),
      given('2026-04-25', { givenAtMs: NOON_MS + 30 * DAY_MS }),
    ]
    const [promise] = judge('2026-03-28', records, { handedOverAtMs: NOON_MS + 20 * DAY_MS })
    expect(promise).toMatchObject({ day: '2026-03-25', daysLate: 3, movedByMaker: 1, why: ['Saw broke'] })
  })

  test('is judged while work is left only once its day is past, and then as late so far', () => {
    expect(judge(null, [given('2026-03-20')], {}, '2026-03-20')).toEqual([])
    expect(judge(null, [given('2026-03-20')], {}, '2026-03-22')).toMatchObject([{ kept: false, daysLate: 2 }])
  })

  test('that was taken away, or only quoted, is not judged', () => {
    expect(judge('2026-03-28', [given('2026-03-20'), given(null)])).toEqual([])
    expect(judge('2026-03-28', [given('2026-03-20', { kind: 'quote', goodUntil: '2026-03-24' })])).toEqual([])
  })
})

describe('the tenths', () => {
  test('count what was kept beside the sum of the stated chances', () => {
    const promises = [0.81, 0.84, 0.96, null].flatMap((chance, at) =>
      judge(at === 1 ? '2026-03-21' : '2026-03-19', [given('2026-03-20', { chance })]),
    )
    const tenths = tenthsOfPromises(promises)
    expect(tenths.map(({ tenth, count, kept }) => [tenth, count, kept])).toEqual([
      [10, 1, 1],
      [8, 2, 1],
    ])
    expect(tenths[1]!.expected).toBeCloseTo(1.65, 10)
  })

  test('take the newest promises of each alone', () => {
    const late = judge('2026-03-25', [given('2026-03-20')])
    const kept = Array.from({ length: NEWEST_OF_A_TENTH }, () => judge('2026-04-01', [given('2026-04-02')])).flat()
    expect(tenthsOfPromises([...late, ...kept])).toMatchObject([{ count: NEWEST_OF_A_TENTH, kept: NEWEST_OF_A_TENTH }])
  })
})
