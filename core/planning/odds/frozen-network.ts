import type { Lag, Plan, PlanningProblem, PlanStep } from '../problem/model.ts'
import { occupancyOf, type Held, type Occupancy } from '../schedule/occupancy.ts'
import { positionsOf } from '../problem/positions.ts'

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
  /** Position of the step in the problem. */
  readonly position: number
  readonly step: PlanStep
  readonly makers: readonly string[]
  /** Set-up and remedies as planned are not uncertain; what is left of the step is. */
  readonly setUpMin: number
  /** Never before this: now, releases, pins, and the planned start where a window further on asks for it. */
  readonly notBefore: number
  /** Lags out of earlier nodes and of what is done, each with the position of the step that it comes from. */
  readonly lags: readonly { readonly lag: Lag; readonly from: number }[]
  readonly follows: readonly Follow[]
}

/** The node starts no sooner than an event of an earlier one. */
export interface Follow {
  readonly position: number
  readonly event: 'start' | 'end'
  /** Minutes after the event, on a clock if given. */
  readonly minutes: number
  readonly clock: string | undefined
}

/** @param targets steps whose times are asked for; only what can move them is kept. Absent: everything */
export function frozenNetwork(problem: PlanningProblem, plan: Plan, targets?: readonly string[]): FrozenNetwork {
  const occupancy = occupancyOf(problem, plan)
  const { steps } = problem
  const positions = positionsOf(steps)
  const order = forwardOrder(occupancy, positions)
  /** Place of each step in the order; -1 for one that is done. */
  const rank = new Int32Array(steps.length).fill(-1)
  order.forEach((position, place) => (rank[position] = place))
  const follows = steps.map((): Follow[] => [])
  const follow = (later: string, earlierId: string, event: Follow['event'], minutes = 0, clock?: string): void => {
    const position = positions.get(earlierId)!
    const at = positions.get(later)!
    if (rank[position]! < 0 || rank[position]! >= rank[at]!) return
    const isKnown = follows[at]!.some(
      (each) => each.position === position && each.event === event && each.minutes === minutes && each.clock === clock,
    )
    if (!isKnown) follows[at]!.push({ position, event, minutes, clock })
  }
  followMakers(occupancy, order, follow)
  for (const station of problem.stations) followStation(occupancy, station.id, station.capacity, follow)
  followAir(occupancy, order, follow)

  const nodes = order.map((position): FrozenNode => {
    const step = steps[position]!
    const { makers, setUpMin } = occupancy.planned[position]!
    const lags = (occupancy.lagsInto.get(step.id) ?? [])
      .map((lag) => ({ lag, from: positions.get(lag.from)! }))
      .filter(({ from }) => rank[from]! < rank[position]!)
    return {
      ...{ position, step, makers, setUpMin, lags },
      notBefore: notBefore(occupancy, step),
      follows: follows[position]!,
    }
  })
  if (targets === undefined) return { nodes }
  return {
    nodes: ancestors(
      nodes,
      rank,
      targets.map((id) => positions.get(id)!),
    ),
  }
}

type FollowFrom = (later: string, earlier: string, event: Follow['event'], minutes?: number, clock?: string) => void

/** Positions of the steps that are not done, by planned start; of several that start together, those first that others wait for. */
function forwardOrder(
  { problem: { now, steps }, planned, lagsInto }: Occupancy,
  positions: ReadonlyMap<string, number>,
): number[] {
  const isOpen = (position: number): boolean => steps[position]!.state.kind !== 'done'
  // What is in progress comes when its maker gets back to it, which may be after another one that is.
  const start = (position: number): number =>
    steps[position]!.state.kind === 'running'
      ? (planned[position]!.stretches[0]?.from ?? now)
      : planned[position]!.start
  const sorted = [...steps.keys()]
    .filter(isOpen)
    .sort((a, b) => start(a) - start(b) || planned[a]!.end - planned[b]!.end)
  const isPlaced = new Uint8Array(steps.length)
  const order: number[] = []
  for (const first of sorted) {
    const path = [first]
    while (path.length > 0) {
      const last = path[path.length - 1]!
      let missing = -1
      for (const lag of isPlaced[last] === 1 ? [] : (lagsInto.get(steps[last]!.id) ?? [])) {
        const from = positions.get(lag.from)!
        if (isPlaced[from] === 1 || !isOpen(from) || start(from) !== start(last) || path.includes(from)) continue
        missing = from
        break
      }
      if (missing >= 0) {
        path.push(missing)
        continue
      }
      path.pop()
      if (isPlaced[last] === 1) continue
      isPlaced[last] = 1
      order.push(last)
    }
  }
  return order
}

/** A step that opens a window was placed with the window in mind: to start it sooner could miss it. */
function notBefore(occupancy: Occupancy, step: PlanStep): number {
  const { now } = occupancy.problem
  if (step.state.kind === 'running') return now
  const opensWindow = occupancy.lagsOutOf.get(step.id)?.some(({ maxMin }) => maxMin !== null) === true
  const pin = step.pinned !== undefined && step.pinned.to > now ? step.pinned.from : now
  return Math.max(now, step.release ?? now, pin, opensWindow ? occupancy.at(step.id).start : now)
}

function followMakers({ problem, planned }: Occupancy, order: readonly number[], follow: FollowFrom): void {
  const last = new Map<string, string>()
  const starts = (position: number): number => planned[position]!.stretches[0]?.from ?? -1
  for (const position of order.filter((each) => starts(each) >= 0).sort((a, b) => starts(a) - starts(b))) {
    const { id } = problem.steps[position]!
    for (const maker of planned[position]!.makers) {
      const before = last.get(maker)
      if (before !== undefined) follow(id, before, 'end')
      last.set(maker, id)
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
      if (first.by !== null) followFreeing(held.step, first.by, follow)
      if (first.units === 0) free.shift()
    }
    taken.push(held)
  }
}

function followFreeing(later: string, { step, hold: { until } }: Held, follow: FollowFrom): void {
  switch (until.kind) {
    case 'end':
      return follow(later, step, 'end')
    case 'after':
      return follow(later, step, 'end', until.minutes, until.clock)
    case 'start-of':
      return follow(later, until.step, 'start')
    case 'end-of':
      return follow(later, until.step, 'end')
  }
}

/**
 * A coat follows the dusty work that was over before it, dusty work follows the coats that were dry. Of what one maker did
 * in a row only the last needs an arc, as the maker keeps the order of the others.
 */
function followAir(occupancy: Occupancy, order: readonly number[], follow: FollowFrom): void {
  const rooms = Map.groupBy(
    order.map((position) => occupancy.problem.steps[position]!).filter((step) => step.dusty || step.tackyMin > 0),
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
        if (step.dusty) follow(step.id, id, 'end', tackyMin, tackyClock)
        else follow(step.id, id, 'end')
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

function ancestors(nodes: readonly FrozenNode[], rank: Int32Array, targets: readonly number[]): readonly FrozenNode[] {
  const isKept = new Uint8Array(nodes.length)
  const open = targets.map((position) => rank[position]!).filter((place) => place >= 0)
  for (let place = open.pop(); place !== undefined; place = open.pop()) {
    if (isKept[place] === 1) continue
    isKept[place] = 1
    const { lags, follows } = nodes[place]!
    for (const { from } of lags) if (rank[from]! >= 0) open.push(rank[from]!)
    for (const { position } of follows) open.push(rank[position]!)
  }
  return nodes.filter((_, place) => isKept[place] === 1)
}
