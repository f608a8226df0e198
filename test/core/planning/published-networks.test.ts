import { describe, expect, test } from 'vitest'
import type { PlanningProblem } from '../../../core/planning/problem/model.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { bindingChain } from '../../../core/planning/reasons/why.ts'
import { aLag, aShop, aStep } from './a-shop.ts'

type Activity = readonly [name: string, minutes: number, follows: string]

/** A network of activities with a maker for each, always in the shop: nothing but the network decides the dates. */
function networkOf(activities: readonly Activity[]): PlanningProblem {
  const now = aShop([]).now
  return aShop(
    activities.map(([name, minutes]) => aStep(name, minutes, { makers: [name] })),
    {
      makers: activities.map(([name]) => ({ id: name, name, hours: [{ from: now, to: now + 1_000_000 }] })),
      lags: activities.flatMap(([name, , follows]) => [...follows].map((before) => aLag(before, name))),
    },
  )
}

function planned(problem: PlanningProblem) {
  const made = plan(problem)
  if (!made.ok) throw new Error('refused')
  const times = made.value.steps.map(({ id, start, end }) => [id, start - problem.now, end - problem.now] as const)
  const critical = [...new Set(bindingChain(problem, made.value, 'order').links.map(({ step }) => step))]
  return { times, critical, makespan: made.value.objective.makespanMin }
}

describe('published networks', () => {
  // Worked example "Example 1. Draw the network for the events in Table 1" of a course on project scheduling, Table 2,
  // https://studylib.net/doc/8378728/example-1--draw-the-network-for-the-events-in-table-1, read in November 2026. In hours.
  test('critical path: earliest starts and finishes, and the path, are those of the table', () => {
    const hours: readonly Activity[] = [
      ['A', 6, ''],
      ['B', 2, 'A'],
      ['C', 2, 'A'],
      ['D', 3, 'B'],
      ['E', 4, 'DF'],
      ['F', 2, 'C'],
      ['G', 1, 'E'],
    ]
    const { times, critical, makespan } = planned(networkOf(hours))
    expect(times).toEqual([
      ['A', 0, 6],
      ['B', 6, 8],
      ['C', 6, 8],
      ['D', 8, 11],
      ['E', 11, 15],
      ['F', 8, 10],
      ['G', 15, 16],
    ])
    expect(critical).toEqual(['A', 'B', 'D', 'E', 'G'])
    expect(makespan).toBe(16)
  })

  // Three-point estimates and the solution, in days to two decimals, of a textbook exercise as worked at
  // https://wizedu.com/questions/717873/time-days-immediate-time-days-immediate-activity, read in November 2026. The expected
  // time is (optimistic + 4 x most likely + pessimistic) / 6 (Navy Special Projects Office, PERT Summary Report, Phase 1,
  // July 1958); with 600 minutes a day it is a whole number of minutes.
  test('three-point estimates: earliest starts and finishes with expected times are those of the solution', () => {
    const estimates = [
      ['A', 5, 5, 7, '', 0, 5.33],
      ['B', 1, 2, 5, '', 0, 2.33],
      ['C', 5, 5, 5, 'A', 5.33, 10.33],
      ['D', 4, 8, 13, 'A', 5.33, 13.5],
      ['E', 1, 10, 17, 'BC', 10.33, 20],
      ['F', 1, 5, 7, 'D', 13.5, 18.17],
    ] as const
    const { times } = planned(
      networkOf(estimates.map(([name, a, m, b, follows]) => [name, (a + 4 * m + b) * 100, follows])),
    )
    const days = (minutes: number): number => Math.round((minutes / 600) * 100) / 100
    expect(times.map(([name, start, end]) => [name, days(start), days(end)])).toEqual(
      estimates.map(([name, , , , , start, end]) => [name, start, end]),
    )
  })
})
