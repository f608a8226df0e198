import type { Pattern } from './kinds.ts'

/** The worth of the fullest-valued pattern, and the pattern itself in rows of the problem. */
export interface PricedPattern extends Pattern {
  readonly worth: number
  /** No pattern is worth more; false when the effort ran out first. */
  readonly best: boolean
}

/**
 * The pattern of greatest worth: a bounded knapsack over the rows. By dynamic programming where the capacity is small, else by branch
 * and bound over the rows in order of worth per size; null when no row is worth anything.
 * @param effort patterns tried at most; the answer says whether that was enough to be sure
 */
export function bestPattern(
  sizes: Int32Array,
  demand: Int32Array,
  worths: Float64Array,
  capacity: number,
  effort = MOST_EFFORT,
): PricedPattern | null {
  const rows = [...sizes.keys()].filter((row) => demand[row]! > 0 && worths[row]! > 1e-9 && sizes[row]! <= capacity)
  if (rows.length === 0) return null
  return rows.length * capacity <= effort * TABLE_COST
    ? byTable(rows, sizes, demand, worths, capacity)
    : byBranching(rows, sizes, demand, worths, capacity, effort)
}

/** Patterns tried before branching gives up; tables of ten times as many cells are always filled. */
export const MOST_EFFORT = 200_000

/** A table of so many cells costs as much as one pattern tried in branching. */
const TABLE_COST = 10

function byTable(
  rows: readonly number[],
  sizes: Int32Array,
  demand: Int32Array,
  worths: Float64Array,
  capacity: number,
): PricedPattern {
  const width = capacity + 1
  const { best, taken } = scratchOf(rows.length * width, width)
  best.fill(0, 0, width)
  taken.fill(0, 0, rows.length * width)
  for (let layer = 0; layer < rows.length; layer++) {
    const size = sizes[rows[layer]!]!
    const worth = worths[rows[layer]!]!
    const most = Math.min(demand[rows[layer]!]!, Math.floor(capacity / size))
    if (most === 1) putOnce(best, taken, layer * width, size, worth, capacity)
    else putOften(best, taken, layer * width, size, worth, capacity, most)
  }
  const kinds: number[] = []
  const counts: number[] = []
  for (let layer = rows.length - 1, room = capacity; layer >= 0; layer--) {
    const count = taken[layer * width + room]!
    if (count === 0) continue
    kinds.push(rows[layer]!)
    counts.push(count)
    room -= count * sizes[rows[layer]!]!
  }
  return { kinds: kinds.toReversed(), counts: counts.toReversed(), worth: best[capacity]!, best: true }
}

function putOnce(
  best: Float64Array,
  taken: Uint16Array,
  start: number,
  size: number,
  worth: number,
  capacity: number,
): void {
  for (let room = capacity; room >= size; room--) {
    const value = best[room - size]! + worth
    if (value > best[room]!) {
      best[room] = value
      taken[start + room] = 1
    }
  }
}

function putOften(
  best: Float64Array,
  taken: Uint16Array,
  start: number,
  size: number,
  worth: number,
  capacity: number,
  most: number,
): void {
  for (let room = capacity; room >= size; room--) {
    let highest = best[room]!
    for (let count = 1, rest = room - size; count <= most && rest >= 0; count++, rest -= size) {
      const value = best[rest]! + count * worth
      if (value > highest) {
        highest = value
        taken[start + room] = count
      }
    }
    best[room] = highest
  }
}

/** Working memory kept between calls, because tens of thousands of small tables are made in a second; nothing in it outlives a call. */
let scratch = { best: new Float64Array(0), taken: new Uint16Array(0) }

function scratchOf(cells: number, width: number): typeof scratch {
  if (scratch.taken.length < cells || scratch.best.length < width) {
    scratch = { best: new Float64Array(width), taken: new Uint16Array(cells) }
  }
  return scratch
}

function byBranching(
  rows: readonly number[],
  sizes: Int32Array,
  demand: Int32Array,
  worths: Float64Array,
  capacity: number,
  effort: number,
): PricedPattern {
  const order = rows.toSorted((a, b) => worths[b]! / sizes[b]! - worths[a]! / sizes[a]!)
  const smallestFrom = new Int32Array(order.length + 1).fill(capacity + 1)
  for (let index = order.length - 1; index >= 0; index--) {
    smallestFrom[index] = Math.min(smallestFrom[index + 1]!, sizes[order[index]!]!)
  }
  const ceiling = effort > EFFORT_WORTH_A_CEILING ? coarseCeiling(order, sizes, demand, worths, capacity) : null
  const chosen = new Int32Array(order.length)
  let best = new Int32Array(order.length)
  let bestWorth = 0
  let budget = effort
  const fill = (index: number, room: number, worth: number): void => {
    if (worth > bestWorth + 1e-12) {
      bestWorth = worth
      best = chosen.slice()
    }
    for (let next = index; next < order.length && room >= smallestFrom[next]!; next++) {
      const row = order[next]!
      if (worth + (room * worths[row]!) / sizes[row]! <= bestWorth + 1e-9) return
      if (ceiling !== null && worth + ceiling(next, room) <= bestWorth + 1e-9) return
      if (budget < 0 || --budget < 0) return
      const most = Math.min(demand[row]!, Math.floor(room / sizes[row]!))
      for (let count = most; count >= 1; count--) {
        chosen[next] = count
        fill(next + 1, room - count * sizes[row]!, worth + count * worths[row]!)
      }
      chosen[next] = 0
    }
  }
  fill(0, capacity, 0)
  const used = order.flatMap((row, index) => (best[index]! > 0 ? [{ row, count: best[index]! }] : []))
  used.sort((a, b) => a.row - b.row)
  return {
    kinds: used.map(({ row }) => row),
    counts: used.map(({ count }) => count),
    worth: bestWorth,
    best: budget >= 0,
  }
}

const EFFORT_WORTH_A_CEILING = 20_000
const COARSE_CAPACITY = 1000

/**
 * How much the rows from one on can be worth at most in some room: the exact answer for sizes rounded down to a coarse capacity.
 * It rules out nearly everything where few large sizes fit a bin and worth per size tells little.
 */
function coarseCeiling(
  order: readonly number[],
  sizes: Int32Array,
  demand: Int32Array,
  worths: Float64Array,
  capacity: number,
): (next: number, room: number) => number {
  const width = COARSE_CAPACITY + 1
  const table = new Float64Array((order.length + 1) * width)
  for (let index = order.length - 1; index >= 0; index--) {
    const row = order[index]!
    const size = Math.floor((sizes[row]! * COARSE_CAPACITY) / capacity)
    const most = Math.min(demand[row]!, Math.floor(capacity / sizes[row]!))
    const [here, below] = [index * width, (index + 1) * width]
    for (let room = 0; room < width; room++) {
      let highest = table[below + room]!
      for (let count = 1, rest = room - size; count <= most && rest >= 0; count++, rest -= size) {
        highest = Math.max(highest, table[below + rest]! + count * worths[row]!)
      }
      table[here + room] = highest
    }
  }
  return (next, room) => table[next * width + Math.floor((room * COARSE_CAPACITY) / capacity)]!
}
