import { TO_DO, UNTIL_END_OF, UNTIL_START_OF, type Compiled } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'

/**
 * Steps that are placed together, since moving one may move the others: those tied by a window (maximum lag) or by a hold
 * that one opens and another closes, and all that lie between. Blocks are numbered so that what leads to a block has a lower number.
 */
export interface Blocks {
  /** Block of each step; -1 for one that has started. */
  readonly of: Int32Array
  /** Steps of each block, in the order in which they are placed; a search may find a better one. */
  readonly steps: readonly number[][]
  /** Blocks from which lags lead to each block. */
  readonly before: readonly (readonly number[])[]
  readonly after: readonly (readonly number[])[]
}

export function blocksOf(compiled: Compiled): Blocks {
  const { stepCount, state, lagCount, lagFrom, lagTo } = compiled
  const tie = tiedSteps(compiled)
  const following: number[][] = Array.from({ length: stepCount }, () => [])
  for (let lag = 0; lag < lagCount; lag++) {
    const from = lagFrom[lag]!
    const to = lagTo[lag]!
    if (state[from] === TO_DO && state[to] === TO_DO && tie(from) !== tie(to)) following[tie(from)]!.push(tie(to))
  }
  const roots: number[] = []
  for (let step = 0; step < stepCount; step++) if (state[step] === TO_DO && tie(step) === step) roots.push(step)
  const component = circlesFirst(roots, following, stepCount)

  const of = new Int32Array(stepCount).fill(-1)
  const members: number[][] = []
  for (let step = 0; step < stepCount; step++) {
    if (state[step] !== TO_DO) continue
    const block = component[tie(step)]!
    of[step] = block
    ;(members[block] ??= []).push(step)
  }
  const before = members.map(() => new Set<number>())
  for (let lag = 0; lag < lagCount; lag++) {
    const from = of[lagFrom[lag]!]!
    const to = of[lagTo[lag]!]!
    if (from >= 0 && to >= 0 && from !== to) before[to]!.add(from)
  }
  const after: number[][] = members.map(() => [])
  before.forEach((blocks, block) => blocks.forEach((earlier) => after[earlier]!.push(block)))
  return {
    of,
    steps: members.map((steps) => (steps.length === 1 ? steps : placingOrder(compiled, steps, null))),
    before: before.map((blocks) => [...blocks]),
    after,
  }
}

/** Representative of the steps that windows and holds tie together. */
function tiedSteps(compiled: Compiled): (step: number) => number {
  const { stepCount, state, lagCount, lagFrom, lagTo, lagMax, holdStep, holdTarget } = compiled
  const parent = Int32Array.from({ length: stepCount }, (_, step) => step)
  const root = (step: number): number => {
    let top = step
    while (parent[top] !== top) top = parent[top] = parent[parent[top]!]!
    return top
  }
  const tie = (a: number, b: number): void => {
    if (state[a] === TO_DO && state[b] === TO_DO) parent[Math.max(root(a), root(b))] = Math.min(root(a), root(b))
  }
  for (let lag = 0; lag < lagCount; lag++) if (lagMax[lag]! < NEVER) tie(lagFrom[lag]!, lagTo[lag]!)
  for (let hold = 0; hold < holdStep.length; hold++) if (holdTarget[hold]! >= 0) tie(holdStep[hold]!, holdTarget[hold]!)
  return root
}

/**
 * Numbers the strongly connected components so that arcs lead from lower to higher numbers (Tarjan's algorithm, without
 * recursion, since a chain of steps may be long).
 */
function circlesFirst(nodes: readonly number[], following: readonly (readonly number[])[], size: number): Int32Array {
  const component = new Int32Array(size).fill(-1)
  const seenAt = new Int32Array(size).fill(-1)
  const lowest = new Int32Array(size)
  const nextArc = new Int32Array(size)
  const open: number[] = []
  let seen = 0
  let components = 0
  for (const first of nodes) {
    if (seenAt[first]! >= 0) continue
    const path = [first]
    while (path.length > 0) {
      const node = path[path.length - 1]!
      if (seenAt[node]! < 0) {
        seenAt[node] = lowest[node] = seen++
        open.push(node)
      }
      const next = following[node]![nextArc[node]!++]
      if (next !== undefined) {
        if (seenAt[next]! < 0) path.push(next)
        else if (component[next]! < 0) lowest[node] = Math.min(lowest[node]!, seenAt[next]!)
        continue
      }
      path.pop()
      const parent = path[path.length - 1]
      if (parent !== undefined) lowest[parent] = Math.min(lowest[parent]!, lowest[node]!)
      if (lowest[node] !== seenAt[node]) continue
      let member: number
      do component[(member = open.pop()!)] = components
      while (member !== node)
      components += 1
    }
  }
  return component.map((number) => (number < 0 ? -1 : components - 1 - number))
}

/**
 * An order of the steps of one block in which lags lead forward; what closes a window or hold that is open comes as soon
 * as possible. Lags with a negative minimum only count where they do not close a circle.
 * @param chance for other orders than the usual one: uniform in [0, 1)
 */
export function placingOrder(compiled: Compiled, steps: readonly number[], chance: (() => number) | null): number[] {
  const inside = new Set(steps)
  const all = arcsWithin(compiled, inside, () => true)
  return (
    forwardOrder(compiled, steps, all, chance) ??
    forwardOrder(
      compiled,
      steps,
      arcsWithin(compiled, inside, (lag) => compiled.lagMin[lag]! >= 0),
      chance,
    ) ?? [...steps]
  )
}

type Arcs = ReadonlyMap<number, readonly number[]>

function arcsWithin(compiled: Compiled, inside: ReadonlySet<number>, counts: (lag: number) => boolean): Arcs {
  const { lagsOutOf, lagTo } = compiled
  const arcs = new Map<number, number[]>()
  for (const step of inside) {
    const heads: number[] = []
    for (let position = lagsOutOf.from[step]!; position < lagsOutOf.from[step + 1]!; position++) {
      const lag = lagsOutOf.items[position]!
      if (inside.has(lagTo[lag]!) && counts(lag)) heads.push(lagTo[lag]!)
    }
    arcs.set(step, heads)
  }
  return arcs
}

function forwardOrder(
  compiled: Compiled,
  steps: readonly number[],
  arcs: Arcs,
  chance: (() => number) | null,
): number[] | null {
  const backward = new Map<number, number[]>(steps.map((step) => [step, []]))
  for (const [from, heads] of arcs) for (const to of heads) backward.get(to)!.push(from)
  const placed = new Set<number>()
  const order: number[] = []
  /** What closes something open, newest last. */
  const wanted: number[] = []
  const isReady = (step: number): boolean =>
    !placed.has(step) && backward.get(step)!.every((before) => placed.has(before))
  const onTheWayTo = (target: number): number | undefined => {
    const seen = new Set([target])
    const path = [target]
    for (let next = path.pop(); next !== undefined; next = path.pop()) {
      if (isReady(next)) return next
      for (const before of backward.get(next)!) {
        if (placed.has(before) || seen.has(before)) continue
        seen.add(before)
        path.push(before)
      }
    }
    return undefined
  }
  while (order.length < steps.length) {
    while (wanted.length > 0 && placed.has(wanted[wanted.length - 1]!)) wanted.pop()
    let next: number | undefined
    if (chance === null || chance() < 0.5) {
      for (let last = wanted.length - 1; last >= 0 && next === undefined; last--) next = onTheWayTo(wanted[last]!)
    }
    if (next === undefined) {
      const ready = steps.filter(isReady)
      next = ready[chance === null ? 0 : Math.floor(chance() * ready.length)]
    }
    if (next === undefined) return null
    placed.add(next)
    order.push(next)
    wanted.push(...closersOf(compiled, next).filter((step) => backward.has(step) && !placed.has(step)))
  }
  return order
}

/** Steps that close what this one opens. */
function closersOf(compiled: Compiled, step: number): number[] {
  const { lagsOutOf, lagTo, lagMax, holdsOf, holdUntil, holdTarget } = compiled
  const closers: number[] = []
  for (let position = lagsOutOf.from[step]!; position < lagsOutOf.from[step + 1]!; position++) {
    const lag = lagsOutOf.items[position]!
    if (lagMax[lag]! < NEVER) closers.push(lagTo[lag]!)
  }
  for (let position = holdsOf.from[step]!; position < holdsOf.from[step + 1]!; position++) {
    const hold = holdsOf.items[position]!
    if (holdUntil[hold] === UNTIL_START_OF || holdUntil[hold] === UNTIL_END_OF) closers.push(holdTarget[hold]!)
  }
  return closers
}
