import fc from 'fast-check'
import type { Lag, PlanningProblem, PlanStep } from '../../../core/planning/problem/model.ts'
import { anyShop } from './any-shop.ts'

const oddNumber = fc.constantFrom(NaN, Infinity, -Infinity, -5, -1e12, 0, 1.5, 1e6, 1e9, 1e15, 99)

/** Shops with one to three things in them that make no sense. */
export const anySenselessShop = (): fc.Arbitrary<PlanningProblem> =>
  fc
    .tuple(
      anyShop({ commissions: 3, steps: 5, reality: true }),
      fc.array(fc.tuple(fc.nat(SPOILERS.length - 1), fc.nat(20), oddNumber), { minLength: 1, maxLength: 3 }),
    )
    .map(([shop, faults]) =>
      faults.reduce((problem, [which, position, value]) => SPOILERS[which]!(problem, position, value), shop),
    )

type Spoiler = (problem: PlanningProblem, position: number, value: number) => PlanningProblem

function changed<T>(items: readonly T[], position: number, change: (item: T) => T): readonly T[] {
  return items.map((item, index) => (index === position % items.length ? change(item) : item))
}

const stepWith =
  (change: (value: number, problem: PlanningProblem, step: PlanStep) => Partial<PlanStep>): Spoiler =>
  (problem, position, value) => ({
    ...problem,
    steps: changed(problem.steps, position, (step) => ({ ...step, ...change(value, problem, step) })),
  })

const lagWith =
  (change: (value: number) => Partial<Lag>): Spoiler =>
  (problem, position, value) => ({
    ...problem,
    lags: changed(problem.lags, position, (lag) => ({ ...lag, ...change(value) })),
  })

const stepOf = ({ steps }: PlanningProblem, position: number): string => steps[position % steps.length]!.id

const SPOILERS: readonly Spoiler[] = [
  stepWith((minutes) => ({ minutes })),
  stepWith((smallestStretchMin) => ({ smallestStretchMin, interruptible: true })),
  stepWith((tackyMin) => ({ tackyMin })),
  stepWith((hands) => ({ hands })),
  stepWith((release) => ({ release })),
  stepWith((from, { now }) => ({ pinned: { from, to: now } })),
  stepWith((minutes) => ({ setUp: { family: 'saw', minutes } })),
  stepWith((startedAt) => ({ state: { kind: 'running', startedAt, maker: 'nobody' } })),
  stepWith((endedAt, { now }) => ({ state: { kind: 'done', startedAt: now, endedAt } })),
  stepWith(() => ({ commissionId: 'nobody’s' })),
  stepWith(() => ({ makers: [] })),
  stepWith(() => ({ makers: ['nobody'] })),
  stepWith(() => ({ id: 'twin' })),
  stepWith((units, { stations }) => ({ holds: [{ station: stations[0]!.id, units, until: { kind: 'end' } }] })),
  stepWith((minutes) => ({ holds: [{ station: 'nowhere', units: 1, until: { kind: 'after', minutes } }] })),
  stepWith((_, { stations, steps }) => ({
    holds: [{ station: stations[0]!.id, units: 1, until: { kind: 'start-of', step: steps[0]!.id } }],
  })),
  lagWith((minMin) => ({ minMin })),
  lagWith((maxMin) => ({ maxMin })),
  lagWith((minutes) => ({ remedy: { name: 'scuff-sand', minutes } })),
  lagWith(() => ({ clock: 'no clock' })),
  lagWith(() => ({ to: 'no step' })),
  // A lag from any step to any other: circles, and windows that no order can keep.
  (problem, position, value) => ({
    ...problem,
    lags: [
      ...problem.lags,
      {
        ...{
          from: stepOf(problem, position),
          to: stepOf(problem, position * 7 + 3),
          wait: 'none',
          name: `back ${position} ${value}`,
        },
        ...{
          minMin: Number.isInteger(value) && Math.abs(value) < 1e6 ? value : 0,
          maxMin: position % 3 === 0 ? 60 : null,
        },
      },
    ],
  }),
  (problem, position, capacity) => ({
    ...problem,
    stations: changed(problem.stations, position, (station) => ({ ...station, capacity })),
  }),
  (problem, position, weight) => ({
    ...problem,
    commissions: changed(problem.commissions, position, (commission) => ({ ...commission, weight })),
  }),
  (problem, position, promise) => ({
    ...problem,
    commissions: changed(problem.commissions, position, (commission) => ({ ...commission, promise })),
  }),
  (problem, position, to) => ({
    ...problem,
    makers: changed(problem.makers, position, (maker) => ({ ...maker, hours: [{ from: problem.now, to }] })),
  }),
  (problem) => ({ ...problem, makers: problem.makers.map((maker) => ({ ...maker, hours: [] })) }),
  (problem) => ({ ...problem, makers: [] }),
  (problem, _, rate) => ({ ...problem, clocks: [{ id: 'clock', segments: [{ from: problem.now, rate }] }] }),
  (problem, _, from) => ({ ...problem, clocks: [{ id: 'clock', segments: [{ from, rate: 1 }] }] }),
  (problem) => ({ ...problem, clocks: [{ id: 'clock', segments: [] }] }),
  (problem, _, now) => ({ ...problem, now }),
]
