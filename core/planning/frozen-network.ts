import type { Lag, Plan, PlanningProblem, PlanStep } from './model.ts'
import { Occupancy, type Held } from './occupancy.ts'

/**
 * The decisions of a plan without its times: who follows whom on each maker, at each station, in each room. A
 * replication is then one pass through the network in which every step starts as early as what it follows allows
 * (an early-start policy).
 */
export interface FrozenNetwork {
  /** In an order in which every arc leads forward. */
  readonly nodes: readonly FrozenNode[]
}

export interface FrozenNode {
  readonly step: PlanStep
  readonly makers: readonly string[]
  /** Set-up and remedies as planned are not uncertain; what is left of the step is. */
  readonly setUpMin: number
  /** Never before this: now, releases, pins, and the planned start where a window further on asks for it. */
  readonly notBefore: number
  readonly lags: readonly Lag[]
  readonly follows: readonly Follow[]
}

/** The node starts no sooner than an event of an earlier one. */
export interface Follow {
  readonly step: string
  readonly event: 'start' | 'end'
  /** Minutes after the event, on a clock if given. */
  readonly minutes: number
  readonly clock: string | undefined
}

/** @param targets steps whose times are asked for; only what can move them is kept. Absent: everything */
export function frozenNetwork(problem: PlanningProblem, plan: Plan, targets?: readonly string[]): FrozenNetwork {
  const occupancy = new Occupancy(problem, plan)
  const order = forwardOrder(occupancy)
  const rank = new Map(order.map((step, index) => [step.id, index]))
  const follows = new Map<string, Follow[]>(order.map((step) => [step.id, []]))
  const follow = (later: string, earlier: Follow): void => {
    if (
      later !== earlier.step &&
      rank.has(later) &&
      rank.has(earlier.step) &&
      rank.get(earlier.step)! < rank.get(later)!
    ) {
      follows.get(later)!.push(earlier)
    }
  }
  followMakers(occupancy, order, follow)
  for (const station of problem.stations) followStation(occupancy, station.id, station.capacity, follow)
  followAir(occupancy, order, follow)

  const nodes = order.map((step): FrozenNode => {
    const planned = occupancy.at(step.id)
    return {
      step,
      makers: planned.makers,
      setUpMin: planned.setUpMin,
      notBefore: notBefore(occupancy, step),
      lags: (occupancy.lagsInto.get(step.id) ?? []).filter(({ from }) => isEarlier(occupancy, rank, from, step.id)),
      follows: follows.get(step.id)!,
    }
  })
  return { nodes: targets === undefined ? nodes : ancestors(nodes, targets) }
}

type FollowFrom = (later: string, earlier: Follow) => void

/** Steps that are not done, by planned start; of several that start together, those first that others wait for. */
function forwardOrder(occupancy: Occupancy): PlanStep[] {
  const open = occupancy.problem.steps.filter(({ state }) => state.kind !== 'done')
  const start = ({ id }: PlanStep): number => occupancy.at(id).start
  const sorted = [...open].sort((a, b) => start(a) - start(b) || occupancy.at(a.id).end - occupancy.at(b.id).end)
  const placed = new Set<string>()
  const order: PlanStep[] = []
  const place = (step: PlanStep): void => {
    const path = [step]
    while (path.length > 0) {
      const last = path[path.length - 1]!
      const missing = (occupancy.lagsInto.get(last.id) ?? [])
        .map(({ from }) => occupancy.step.get(from)!)
        .find(
          (from) =>
            from.state.kind !== 'done' && !placed.has(from.id) && start(from) === start(last) && !path.includes(from),
        )
      if (missing !== undefined) {
        path.push(missing)
        continue
      }
      path.pop()
      if (placed.has(last.id)) continue
      placed.add(last.id)
      order.push(last)
    }
  }
  for (const step of sorted) place(step)
  return order
}

const isEarlier = (occupancy: Occupancy, rank: ReadonlyMap<string, number>, from: string, to: string): boolean =>
  occupancy.step.get(from)!.state.kind === 'done' || (rank.get(from) ?? Infinity) < rank.get(to)!

/** A step that opens a window was placed with the window in mind: to start it sooner could miss it. */
function notBefore(occupancy: Occupancy, step: PlanStep): number {
  const { now } = occupancy.problem
  if (step.state.kind === 'running') return now
  const opensWindow = (occupancy.lagsOutOf.get(step.id) ?? []).some(({ maxMin }) => maxMin !== null)
  const pin = step.pinned !== undefined && step.pinned.to > now ? step.pinned.from : now
  return Math.max(now, step.release ?? now, pin, opensWindow ? occupancy.at(step.id).start : now)
}

function followMakers(occupancy: Occupancy, order: readonly PlanStep[], follow: FollowFrom): void {
  const last = new Map<string, string>()
  const starts = (step: PlanStep): number => occupancy.at(step.id).stretches[0]?.from ?? -1
  for (const step of order.filter((each) => starts(each) >= 0).sort((a, b) => starts(a) - starts(b))) {
    for (const maker of occupancy.at(step.id).makers) {
      const before = last.get(maker)
      if (before !== undefined) follow(step.id, { step: before, event: 'end', minutes: 0, clock: undefined })
      last.set(maker, step.id)
    }
  }
}

/** Each holder takes over the units that became free first. */
function followStation(occupancy: Occupancy, station: string, capacity: number, follow: FollowFrom): void {
  const all = occupancy.allHeld(station)
  const free: { units: number; by: Held | null }[] = [{ units: capacity, by: null }]
  const taken: Held[] = []
  for (const held of [...all].sort((a, b) => a.from - b.from || a.to - b.to)) {
    taken.sort((a, b) => a.to - b.to)
    while (taken.length > 0 && taken[0]!.to <= held.from) {
      const left = taken.shift()!
      free.push({ units: left.units, by: left })
    }
    let needed = held.units
    while (needed > 0 && free.length > 0) {
      const first = free[0]!
      const units = Math.min(needed, first.units)
      needed -= units
      first.units -= units
      if (first.by !== null) follow(held.step, freeingEvent(occupancy, first.by))
      if (first.units === 0) free.shift()
    }
    taken.push(held)
  }
}

function freeingEvent(occupancy: Occupancy, held: Held): Follow {
  const { until } = held.hold
  switch (until.kind) {
    case 'end':
      return { step: held.step, event: 'end', minutes: 0, clock: undefined }
    case 'after':
      return { step: held.step, event: 'end', minutes: until.minutes, clock: until.clock }
    case 'start-of':
      return { step: until.step, event: 'start', minutes: 0, clock: undefined }
    case 'end-of':
      return { step: until.step, event: 'end', minutes: 0, clock: undefined }
  }
}

/**
 * A coat follows the dusty work that was over before it, dusty work follows the coats that were dry. Of what one maker did
 * in a row only the last needs an arc, as the maker keeps the order of the others.
 */
function followAir(occupancy: Occupancy, order: readonly PlanStep[], follow: FollowFrom): void {
  const rooms = Map.groupBy(
    order.filter((step) => step.dusty || step.tackyMin > 0),
    ({ room }) => room,
  )
  const doer = ({ id }: PlanStep): string => occupancy.at(id).makers[0] ?? ''
  for (const steps of rooms.values()) {
    const dusty = rows(
      steps.filter(({ dusty }) => dusty),
      doer,
      ({ id }) => occupancy.at(id).end,
    )
    const coats = rows(
      steps.filter(({ tackyMin }) => tackyMin > 0),
      (step) => `${doer(step)} ${step.tackyMin} ${step.tackyClock ?? ''}`,
      ({ id, tackyMin, tackyClock }) => occupancy.after(occupancy.at(id).end, tackyMin, tackyClock),
    )
    for (const step of steps) {
      const { start } = occupancy.at(step.id)
      const before = step.dusty ? coats : dusty
      for (const row of before) {
        const last = lastOver(row, start)
        if (last === undefined) continue
        const { id, tackyMin, tackyClock } = last
        follow(
          step.id,
          step.dusty
            ? { step: id, event: 'end', minutes: tackyMin, clock: tackyClock }
            : { step: id, event: 'end', minutes: 0, clock: undefined },
        )
      }
    }
  }
}

interface Row {
  readonly over: readonly number[]
  readonly steps: readonly PlanStep[]
}

function rows(
  steps: readonly PlanStep[],
  keyOf: (step: PlanStep) => string,
  overAt: (step: PlanStep) => number,
): Row[] {
  return [...Map.groupBy(steps, keyOf).values()].map((row) => {
    const sorted = row.map((step) => ({ step, over: overAt(step) })).sort((a, b) => a.over - b.over)
    return { over: sorted.map(({ over }) => over), steps: sorted.map(({ step }) => step) }
  })
}

/** The last of a row that is over by an instant. */
function lastOver({ over, steps }: Row, instant: number): PlanStep | undefined {
  let low = -1
  let high = over.length
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (over[middle]! <= instant) low = middle
    else high = middle
  }
  return steps[low]
}

function ancestors(nodes: readonly FrozenNode[], targets: readonly string[]): readonly FrozenNode[] {
  const node = new Map(nodes.map((each) => [each.step.id, each]))
  const kept = new Set<string>()
  const open = targets.filter((id) => node.has(id))
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (kept.has(id)) continue
    kept.add(id)
    const { lags, follows } = node.get(id)!
    for (const { from } of lags) if (node.has(from)) open.push(from)
    for (const { step } of follows) open.push(step)
  }
  return nodes.filter(({ step }) => kept.has(step.id))
}
