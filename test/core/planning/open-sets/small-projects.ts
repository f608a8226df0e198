import fc from 'fast-check'
import type { JobShop } from '../../../../benchmarks/formats/job-shop.ts'
import type { LaggedProject, StartLag } from '../../../../benchmarks/formats/progen-max.ts'
import type { Project } from '../../../../benchmarks/formats/psplib.ts'
import type { OneMachineJobs } from '../../../../benchmarks/formats/weighted-tardiness.ts'

interface Shape {
  readonly activities: number
  readonly longest: number
}

const activities = (count: number, longest: number, capacities: readonly number[]) =>
  fc.record({
    durations: fc.array(fc.integer({ min: 0, max: longest }), { minLength: count, maxLength: count }),
    needs: fc.array(fc.tuple(...capacities.map((capacity) => fc.integer({ min: 0, max: capacity }))), {
      minLength: count,
      maxLength: count,
    }),
  })

const capacityPairs = fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 3 })

/** Any project of at most so many activities; arcs run from lower to higher numbers. */
export const anyProject = ({ activities: most, longest }: Shape): fc.Arbitrary<Project> =>
  fc.tuple(fc.integer({ min: 1, max: most }), capacityPairs).chain(([count, capacities]) =>
    fc
      .tuple(
        activities(count, longest, capacities),
        fc.array(fc.array(fc.boolean(), { minLength: count, maxLength: count }), {
          minLength: count,
          maxLength: count,
        }),
      )
      .map(([{ durations, needs }, chosen]) => ({
        durations,
        needs,
        capacities,
        successors: chosen.map((row, from) =>
          row.flatMap((linked, to) => (linked && to > from && (to - from) % 3 === 1 ? [to] : [])),
        ),
      })),
  )

/** Any project with lags of either sign, many of them without a schedule. */
export const anyLaggedProject = ({ activities: most, longest }: Shape): fc.Arbitrary<LaggedProject> =>
  fc.tuple(fc.integer({ min: 2, max: most }), capacityPairs).chain(([count, capacities]) => {
    const ends = fc.tuple(fc.integer({ min: 0, max: count - 1 }), fc.integer({ min: 0, max: count - 1 }))
    const forward = fc
      .tuple(ends, fc.integer({ min: 0, max: longest + 2 }))
      .map(([[a, b], lag]): StartLag => ({ from: Math.min(a, b), to: Math.max(a, b), lag }))
      .filter(({ from, to }) => from !== to)
    const backward = fc
      .tuple(ends, fc.integer({ min: 0, max: 2 * longest + 2 }))
      .map(([[a, b], lag]): StartLag => ({ from: Math.max(a, b), to: Math.min(a, b), lag: -lag }))
      .filter(({ from, to }) => from !== to)
    return fc
      .tuple(
        activities(count, longest, capacities),
        fc.array(forward, { maxLength: count }),
        fc.array(backward, { maxLength: count }),
      )
      .map(([{ durations, needs }, ahead, back]) => ({ durations, needs, capacities, lags: [...ahead, ...back] }))
  })

export const anyJobShop = (jobs: number, machines: number): fc.Arbitrary<JobShop> =>
  fc
    .array(
      fc.tuple(
        fc.shuffledSubarray(
          Array.from({ length: machines }, (_, machine) => machine),
          { minLength: machines },
        ),
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: machines, maxLength: machines }),
      ),
      { minLength: 2, maxLength: jobs },
    )
    .map((rows) => ({
      machines,
      jobs: rows.map(([route, durations]) => route.map((machine, place) => ({ machine, duration: durations[place]! }))),
    }))

export const anyJobs = (most: number): fc.Arbitrary<OneMachineJobs> =>
  fc
    .array(fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 1, max: 9 }), fc.nat({ max: 60 })), {
      minLength: 1,
      maxLength: most,
    })
    .map((rows) => ({
      durations: rows.map(([duration]) => duration),
      weights: rows.map(([, weight]) => weight),
      dues: rows.map(([, , due]) => due),
    }))

export const asLagged = ({ durations, needs, capacities, successors }: Project): LaggedProject => ({
  durations,
  needs,
  capacities,
  lags: successors.flatMap((list, from) => list.map((to) => ({ from, to, lag: durations[from]! }))),
})

/** Everything that is wrong with these starts; empty for a schedule. */
export function faults(project: LaggedProject, starts: readonly number[]): string[] {
  const found = starts.flatMap((start, activity) =>
    Number.isInteger(start) && start >= 0 ? [] : [`start ${activity}`],
  )
  for (const { from, to, lag } of project.lags) if (starts[to]! < starts[from]! + lag) found.push(`lag ${from}-${to}`)
  const end = lastFinish(project, starts)
  project.capacities.forEach((capacity, resource) => {
    for (let time = 0; time < end; time++) {
      const used = starts
        .map((start, activity) =>
          start <= time && time < start + project.durations[activity]! ? project.needs[activity]![resource]! : 0,
        )
        .reduce((sum, need) => sum + need, 0)
      if (used > capacity) found.push(`resource ${resource} at ${time}`)
    }
  })
  return found
}

export const lastFinish = (project: { readonly durations: readonly number[] }, starts: readonly number[]): number =>
  Math.max(0, ...starts.map((start, activity) => start + project.durations[activity]!))

/**
 * The least makespan by trying every start of every activity, one activity after the other, and dropping a branch
 * only when a lag to an activity already placed is broken or a resource is overloaded; null when there is no schedule.
 */
export function leastByExhaustion(project: LaggedProject): number | null {
  const longest = project.durations.map((duration, activity) =>
    Math.max(duration, ...project.lags.filter(({ from }) => from === activity).map(({ lag }) => lag)),
  )
  const horizon = longest.reduce((sum, length) => sum + length, 0)
  const starts: number[] = []
  let best: number | null = null
  const used = project.capacities.map(() => new Array<number>(horizon + 1).fill(0))
  const place = (activity: number, end: number): void => {
    if (activity === project.durations.length) {
      best = end
      return
    }
    const duration = project.durations[activity]!
    const last = (best === null ? horizon : best - 1) - duration
    for (let start = 0; start <= last; start++) {
      if (best !== null && Math.max(end, start + duration) >= best) return
      starts[activity] = start
      const lagsKept = project.lags.every(
        ({ from, to, lag }) => Math.max(from, to) !== activity || starts[to]! >= starts[from]! + lag,
      )
      if (!lagsKept) continue
      const add = (sign: number): void =>
        used.forEach((row, resource) => {
          for (let time = start; time < start + duration; time++)
            row[time]! += sign * project.needs[activity]![resource]!
        })
      add(1)
      const fits = used.every((row, resource) =>
        row.slice(start, start + duration).every((units) => units <= project.capacities[resource]!),
      )
      if (fits) place(activity + 1, Math.max(end, start + duration))
      add(-1)
    }
  }
  place(0, 0)
  return best
}

/** The least weighted tardiness over every order of the jobs. */
export function leastTardinessByExhaustion({ durations, weights, dues }: OneMachineJobs): number {
  const goOn = (left: readonly number[], clock: number): number =>
    left.length === 0
      ? 0
      : Math.min(
          ...left.map((job) => {
            const end = clock + durations[job]!
            const late = weights[job]! * Math.max(0, end - dues[job]!)
            return (
              late +
              goOn(
                left.filter((other) => other !== job),
                end,
              )
            )
          }),
        )
  return goOn([...durations.keys()], 0)
}
