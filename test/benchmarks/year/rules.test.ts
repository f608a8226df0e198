import { describe, expect, it } from 'vitest'
import { leastSquares } from '../../../benchmarks/year/policies/least-squares.ts'
import { byEarliestDueDate } from '../../../benchmarks/year/policies/earliest-due-date.ts'
import { featuresOf } from '../../../benchmarks/year/policies/features.ts'
import { habit, rulePolicy, RULES, type FittedRule } from '../../../benchmarks/year/policies/rules.ts'
import type { OpenOrder, ShopView } from '../../../benchmarks/year/lived.ts'
import { DAY_MIN, dayOf, dayOfText, endOfDay } from '../../../benchmarks/year/calendar.ts'
import type { WorkOrder } from '../../../benchmarks/year/work-order.ts'

const monday = dayOfText('2026-03-02')
const now = monday * DAY_MIN + 22 * 60

/** An order of three steps in a row of so many minutes, with a wait of a day after the first and of two after the second. */
function order(id: string, minutes: readonly [number, number, number], askedAt = now): WorkOrder {
  const steps = minutes.map((each, index) => ({ id: `${id}-${index}`, minutes: each }))
  const lags = [
    { fromStep: `${id}-0`, toStep: `${id}-1`, minMin: 1440 },
    { fromStep: `${id}-1`, toStep: `${id}-2`, minMin: 2880 },
  ]
  return { askedAt, customer: { id }, book: { steps, lags } } as unknown as WorkOrder
}

const open = (one: WorkOrder, dueDay: number): OpenOrder => ({
  order: one,
  promised: {
    at: one.askedAt,
    dueAt: endOfDay(dueDay),
    stated: null,
    alone: null,
    days: null,
    daysStated: null,
    plannedAt: null,
    pushed: null,
  },
})

const view = (orders: readonly OpenOrder[], done: readonly string[] = []): ShopView => ({
  ...{ now, open: orders, hasStarted: () => false, log: [], wholeLog: () => [], failures: () => [] },
  isDone: (step) => done.includes(step),
})

const fitted = (name: string, weights: readonly number[], safety = 0): FittedRule => ({
  ...{ rule: RULES.find((rule) => rule.name === name)!, weights, safety, errors: null },
})

describe('what a rule looks at', () => {
  it('is the order itself, its longest chain of waits, and what is ahead of it in the book', () => {
    const ahead = [open(order('a', [30, 40, 50]), monday + 9), open(order('b', [10, 10, 10]), monday + 5)]
    expect(featuresOf(view(ahead, ['a-0', 'b-0']), order('new', [60, 20, 40]))).toEqual({
      ...{ own: 120, steps: 3, waits: 1440 + 2880 },
      ...{ ahead: 40 + 50 + 10 + 10, orders: 2 },
    })
  })
})

describe('a day by rule', () => {
  const ahead = [open(order('a', [30, 40, 50]), monday + 9)]
  const asked = order('new', [60, 20, 40])
  const day = (rule: FittedRule): number => dayOf(rulePolicy(rule).quote(view(ahead), asked).dueAt - 1) - monday

  it('is worked out from what each rule knows', () => {
    expect(day(fitted('CON', [10 * DAY_MIN]))).toBe(10)
    // 120 minutes x 60 = 5 days.
    expect(day(fitted('TWK', [60]))).toBe(5)
    // 120 x 12 = 1 day, 3 steps x 1 day.
    expect(day(fitted('PPW', [12, DAY_MIN]))).toBe(4)
    // 2 days, 1 day of its own, 1 open order x 3 days.
    expect(day(fitted('JIQ', [2 * DAY_MIN, 12, 3 * DAY_MIN]))).toBe(6)
    // 2 days, 1 day of its own, 120 minutes ahead x 36 = 3 days.
    expect(day(fitted('WIQ', [2 * DAY_MIN, 12, 36]))).toBe(6)
    // 1 day, 1 of its own, 3 of what is ahead, its 3 days of waits, 3 steps of a day, 1 order of two days.
    expect(day(fitted('regression', [DAY_MIN, 12, 36, 1, DAY_MIN, 2 * DAY_MIN]))).toBe(13)
  })

  it('is put off by its safety, and never before tomorrow', () => {
    expect(day(fitted('CON', [10 * DAY_MIN], 4 * DAY_MIN))).toBe(14)
    expect(day(fitted('CON', [-10 * DAY_MIN]))).toBe(1)
  })

  it('is four weeks by habit, and six when presents are ordered', () => {
    const later = { ...view([]), now: dayOfText('2026-10-20') * DAY_MIN + 22 * 60 }
    expect(dayOf(habit.quote(view([]), asked).dueAt - 1)).toBe(monday + 28)
    expect(dayOf(habit.quote(later, asked).dueAt - 1)).toBe(dayOfText('2026-12-01'))
  })
})

describe('earliest due date', () => {
  it('works on what is promised first, in the order of its steps, and leaves out what is done', () => {
    const list = byEarliestDueDate(
      view([open(order('late', [30, 40, 50]), monday + 9), open(order('soon', [10, 11, 12]), monday + 5)], ['soon-0']),
    )
    expect(list.map(({ step }) => step)).toEqual(['soon-1', 'soon-2', 'late-0', 'late-1', 'late-2'])
    expect(list.map(({ expectedMin }) => expectedMin)).toEqual([11, 12, 30, 40, 50])
  })
})

describe('least squares', () => {
  it('finds the weights of an exact relation', () => {
    const rows = [
      [1, 120, 5],
      [1, 300, 2],
      [1, 60, 9],
      [1, 200, 9],
    ]
    const weights = leastSquares(
      rows,
      rows.map(([one, own, orders]) => 700 * one! + 3 * own! + 50 * orders!),
    )
    expect(weights[0]).toBeCloseTo(700, 6)
    expect(weights[1]).toBeCloseTo(3, 6)
    expect(weights[2]).toBeCloseTo(50, 6)
  })

  it('agrees with the published straight line of Norris to seven digits', () => {
    // Norris, linear regression, lower difficulty: NIST Statistical Reference Datasets; certified intercept and slope. Data from memory.
    const x = [
      0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5,
      11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1,
      448.9, 0.5,
    ]
    const y = [
      0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
      10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
      449.2, 0.2,
    ]
    const [intercept, slope] = leastSquares(
      x.map((value) => [1, value]),
      y,
    )
    expect(intercept).toBeCloseTo(-0.262323073774029, 7)
    expect(slope).toBeCloseTo(1.00211681802045, 9)
  })

  it('gives no weight to a term that follows from another', () => {
    const weights = leastSquares([[1, 2], [2, 4], [3, 6]], [5, 10, 15]) // prettier-ignore
    expect(weights[0]! + 2 * weights[1]!).toBeCloseTo(5, 9)
    expect(weights).toContain(0)
  })
})
