import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { apparentTardinessCostOrder } from '../../../../core/planning/search/one-machine/apparent-tardiness-cost.ts'
import { Dynasearch } from '../../../../core/planning/search/one-machine/dynasearch.ts'
import { leastWeightedTardiness } from '../../../../core/planning/search/one-machine/tardiness-search.ts'
import {
  oneMachineProblems,
  weightedTardiness,
  type OneMachineJobs,
} from '../../../../core/planning/search/one-machine/weighted-tardiness.ts'
import { readWeightedTardiness } from '../../../../benchmarks/formats/weighted-tardiness.ts'
import { describeOpenData } from '../project/open-data.ts'

const anyJobs = (most: number): fc.Arbitrary<OneMachineJobs> =>
  fc
    .array(fc.tuple(fc.integer({ min: 0, max: 20 }), fc.nat({ max: 9 }), fc.nat({ max: 60 })), {
      minLength: 1,
      maxLength: most,
    })
    .map((rows) => ({
      durations: rows.map(([duration]) => duration),
      weights: rows.map(([, weight]) => weight),
      dues: rows.map(([, , due]) => due),
    }))

describe('least weighted tardiness', () => {
  it('is what trying every order gives', () => {
    fc.assert(
      fc.property(anyJobs(7), fc.integer(), (jobs, seed) => {
        const { order, tardiness } = leastWeightedTardiness(jobs, { schedules: 2000 }, seed)
        expect(tardiness).toBe(leastByExhaustion(jobs))
        expect(weightedTardiness(jobs, order)).toBe(tardiness)
        expect(order.toSorted((a, b) => a - b)).toEqual([...jobs.durations.keys()])
      }),
      { numRuns: 60 },
    )
  })

  it('is the same for the same seed and number of schedules', () => {
    fc.assert(
      fc.property(anyJobs(40), fc.integer(), (jobs, seed) => {
        const again = () => leastWeightedTardiness(jobs, { schedules: 100 }, seed)
        expect(again()).toEqual(again())
      }),
      { numRuns: 20 },
    )
  })

  it('names a due date that is not a whole number', () => {
    const jobs = { durations: [1], weights: [1], dues: [Number.POSITIVE_INFINITY] }
    expect(oneMachineProblems(jobs).map(({ code }) => code)).toEqual(['jobs-number'])
  })
})

describe('dynasearch', () => {
  it('ends where no insertion and no swap helps, and says what the order is worth', () => {
    fc.assert(
      fc.property(anyJobs(9), (jobs) => {
        const order = Int32Array.from(jobs.durations.keys())
        const tardiness = new Dynasearch(jobs).descend(order)
        expect(weightedTardiness(jobs, order)).toBe(tardiness)
        for (const neighbour of neighbours(Array.from(order))) {
          expect(weightedTardiness(jobs, neighbour)).toBeGreaterThanOrEqual(tardiness)
        }
      }),
    )
  })
})

describe('apparent tardiness cost', () => {
  it('is weight over duration when everything is late', () => {
    const jobs = { durations: [4, 2, 1], weights: [1, 4, 3], dues: [0, 0, 0] }
    expect(Array.from(apparentTardinessCostOrder(jobs, 2))).toEqual([2, 1, 0])
  })
})

// OR-Library's optima (Crauwels, Potts, Van Wassenhove 1998), proved again with another solver, see beside the data.
describeOpenData('wt', /wt(40|50)_\d+\.txt$/, 5, (instances) => {
  it('reach the proved optimum within 3,000 orders', () => {
    for (const { name, text, known } of instances) {
      const { tardiness } = leastWeightedTardiness(readWeightedTardiness(text), { schedules: 3000 }, 1)
      expect([name, tardiness]).toEqual([name, known.value])
    }
  }, 60_000)
})

function* neighbours(order: readonly number[]): Generator<number[]> {
  for (let from = 0; from < order.length; from++) {
    for (let to = 0; to < order.length; to++) {
      const moved = order.toSpliced(from, 1)
      moved.splice(to, 0, order[from]!)
      yield moved
      yield order.with(from, order[to]!).with(to, order[from]!)
    }
  }
}

function leastByExhaustion(jobs: OneMachineJobs): number {
  const permute = (left: readonly number[], done: readonly number[]): number =>
    left.length === 0
      ? weightedTardiness(jobs, done)
      : Math.min(
          ...left.map((job) =>
            permute(
              left.filter((other) => other !== job),
              [...done, job],
            ),
          ),
        )
  return permute([...jobs.durations.keys()], [])
}
