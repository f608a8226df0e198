import type { Lag, Plan, PlanningProblem, PlanStep } from '../core/planning/index.ts'
import type { JobShop } from './formats/job-shop.ts'
import type { LaggedProject } from './formats/progen-max.ts'
import type { Project } from './formats/psplib.ts'
import type { OneMachineJobs } from './formats/weighted-tardiness.ts'

/**
 * Open sets as shops, so that the planner of the app answers them as it stands. One unit of their time is a minute.
 *
 * An activity is a milestone that holds its stations for its duration; a resource is a station; a machine that does one
 * thing at a time is a maker. A job of a one-machine problem is the one step of a commission with a promise.
 */

/** Minute 0 of the instances; any will do. */
const ORIGIN = 20_458 * 1440
/** Longer than any instance takes. */
const LONG = 10_000_000

/** Resource-constrained project scheduling: the commission has no promise, so that the least makespan is sought. */
export const projectAsShop = ({ durations, needs, capacities, successors }: Project): PlanningProblem => ({
  ...shop(capacities),
  steps: milestones(durations, needs),
  lags: [
    ...successors.flatMap((heads, from) => heads.map((to) => lag(from, to, durations[from]!, null))),
    ...lagsToEnd(durations, (activity) => successors[activity]!.length === 0),
  ],
})

/** The same with lags from start to start of either sign: a negative one is the maximum lag of the arc turned round. */
export const laggedProjectAsShop = ({ durations, needs, capacities, lags }: LaggedProject): PlanningProblem => ({
  ...shop(capacities),
  steps: milestones(durations, needs),
  lags: [...bothWays(lags), ...lagsToEnd(durations, () => true)],
})

/** One lag for a pair of activities, from the one that the positive arc leaves, or that a negative one leads to. */
function bothWays(arcs: LaggedProject['lags']): Lag[] {
  const found = new Map<string, Lag>()
  for (const { from, to, lag: minutes } of arcs) {
    const turned = minutes >= 0 ? lag(from, to, minutes, null) : lag(to, from, -LONG, -minutes)
    const key = `${turned.from} ${turned.to}`
    const other = found.get(key) ?? turned
    const maxMin = Math.min(turned.maxMin ?? Infinity, other.maxMin ?? Infinity)
    found.set(key, {
      ...turned,
      minMin: Math.max(turned.minMin, other.minMin),
      maxMin: maxMin === Infinity ? null : maxMin,
    })
  }
  return [...found.values()]
}

/** A machine is a maker; operations by job, then by place in the job. */
export function jobShopAsShop({ jobs, machines }: JobShop): PlanningProblem {
  const operations = jobs.flatMap((job) => job.map((operation, place) => ({ ...operation, place })))
  return {
    ...shop([]),
    makers: Array.from({ length: machines }, (_, machine) => alwaysThere(`${machine}`)),
    steps: operations.map(({ machine, duration }, index) => ({
      ...bare(index),
      minutes: duration,
      hands: 1,
      makers: [`${machine}`],
    })),
    lags: operations.flatMap(({ place }, index) => (place === 0 ? [] : [lag(index - 1, index, 0, null)])),
  }
}

/** One maker, and an order a job. */
export function oneMachineAsShop({ durations, weights, dues }: OneMachineJobs): PlanningProblem {
  return {
    ...shop([]),
    makers: [alwaysThere('machine')],
    commissions: durations.map((_, job) => ({
      id: `${job}`,
      name: `Job ${job}`,
      promise: ORIGIN + dues[job]!,
      weight: weights[job]!,
    })),
    steps: durations.map((minutes, job) => ({ ...bare(job), commissionId: `${job}`, minutes, hands: 1 })),
  }
}

/** Start of each of so many activities, in the time of the instance. */
export const startsOf = (plan: Plan, activities: number): number[] =>
  plan.steps.slice(0, activities).map(({ start }) => start - ORIGIN)

const shop = (capacities: readonly number[]): PlanningProblem => ({
  now: ORIGIN,
  makers: [],
  stations: capacities.map((capacity, station) => ({ id: `${station}`, name: `Station ${station}`, capacity })),
  clocks: [],
  commissions: [{ id: 'project', name: 'Project', promise: null, weight: 1 }],
  steps: [],
  lags: [],
  announced: [],
})

const alwaysThere = (id: string): PlanningProblem['makers'][number] => ({
  id,
  name: id,
  hours: [{ from: ORIGIN, to: ORIGIN + LONG }],
})

/** The activities, and an end that follows all of them. */
const milestones = (durations: readonly number[], needs: readonly (readonly number[])[]): PlanStep[] => [
  ...durations.map((duration, activity): PlanStep => ({
    ...bare(activity),
    holds: needs[activity]!.flatMap((units, station) =>
      units > 0 && duration > 0
        ? [{ station: `${station}`, units, until: { kind: 'after' as const, minutes: duration } }]
        : [],
    ),
  })),
  bare(durations.length),
]

const lagsToEnd = (durations: readonly number[], isLast: (activity: number) => boolean): Lag[] =>
  durations.flatMap((duration, activity) => (isLast(activity) ? [lag(activity, durations.length, duration, null)] : []))

const bare = (index: number): PlanStep => ({
  id: `${index}`,
  name: `${index}`,
  pieceId: `${index}`,
  pieceName: `${index}`,
  commissionId: 'project',
  minutes: 0,
  hands: 0,
  interruptible: false,
  smallestStretchMin: 0,
  holds: [],
  room: 'shop',
  dusty: false,
  tackyMin: 0,
  state: { kind: 'to-do' },
})

const lag = (from: number, to: number, minMin: number, maxMin: number | null): Lag => ({
  from: `${from}`,
  to: `${to}`,
  minMin,
  maxMin,
  wait: 'none',
  name: `from ${from} to ${to}`,
})
