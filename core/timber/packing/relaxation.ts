import { bestPattern, type PricedPattern } from './best-pattern.ts'
import type { Stop } from './items.ts'
import { isProper, type Pattern } from './kinds.ts'
import { PatternSimplex } from './pattern-simplex.ts'

/** So many patterns without an item in common are priced at a time. */
const AT_A_TIME = 10

const QUICK_EFFORT = 20_000

/** A pattern worth more than this makes the relaxation better. */
const IMPROVES = 1 + 1e-7

/** How often each pattern is used when bins may be cut in fractions. */
export interface Relaxation {
  /** The sum of uses, least or not far from it. No packing has fewer bins than this rounded up, if `proved`. */
  readonly value: number
  readonly proved: boolean
  readonly uses: readonly { readonly pattern: Pattern; readonly use: number }[]
}

/**
 * The linear relaxation over filling patterns, by column generation. Patterns of `pool` that hold no more than is wanted are
 * offered first; new ones are added to it, so that related problems start warm.
 * @param demand how many of each kind are wanted; kinds wanted 0 times take no part
 * @source P. Gilmore, R. Gomory, Operations Research 9 (1961) 849-859; early end by A. Farley's bound
 */
export function relaxation(
  sizes: Int32Array,
  demand: Int32Array,
  capacity: number,
  pool: Pattern[],
  stop: Stop,
): Relaxation {
  const kinds = Int32Array.from([...demand.keys()].filter((kind) => demand[kind]! > 0))
  const rowOf = new Int32Array(demand.length)
  for (const [row, kind] of kinds.entries()) rowOf[kind] = row
  const rowSizes = kinds.map((kind) => sizes[kind]!)
  const rowDemand = kinds.map((kind) => demand[kind]!)
  const simplex = new PatternSimplex(rowSizes, rowDemand, capacity)
  const offered = pool.filter((pattern) => isProper(pattern, demand)).map((pattern) => renamed(pattern, rowOf))

  const total = rowSizes.reduce((sum, size, row) => sum + size * rowDemand[row]!, 0)
  const volume = Math.ceil(total / capacity)

  let value = 0
  let proved = false
  while (!stop()) {
    if (enterBest(simplex, offered) || simplex.enterExchange()) continue
    const worths = simplex.worths.slice()
    let priced = pricedOut(rowSizes, rowDemand, worths, capacity)
    value = simplex.value()
    if (priced === null) break
    const { worth, best } = priced
    // Either the volume allows no fewer bins anyway; or, divided by the best pattern’s worth, the rows’ worths are feasible for
    // the dual, so that no better bound can come.
    proved =
      Math.ceil(value - 1e-6) <= volume ||
      (best && (worth <= IMPROVES || Math.ceil(value / worth - 1e-6) >= Math.ceil(value - 1e-6)))
    if (proved || worth <= IMPROVES) break
    simplex.enter(priced)
    for (let count = 0; count < AT_A_TIME && priced !== null && priced.worth > IMPROVES; count++) {
      offered.push(priced)
      pool.push(renamed(priced, kinds))
      for (const row of priced.kinds) worths[row] = 0
      priced = bestPattern(rowSizes, rowDemand, worths, capacity, QUICK_EFFORT)
    }
  }
  const uses = simplex.uses().map(({ pattern, use }) => ({ pattern: renamed(pattern, kinds), use }))
  return { value, proved, uses }
}

/** A good pattern if one is quickly found, else the best. */
function pricedOut(
  sizes: Int32Array,
  demand: Int32Array,
  worths: Float64Array,
  capacity: number,
): PricedPattern | null {
  const quick = bestPattern(sizes, demand, worths, capacity, QUICK_EFFORT)
  if (quick === null || quick.best || quick.worth > 1 + 1e-3) return quick
  return bestPattern(sizes, demand, worths, capacity)
}

function enterBest(simplex: PatternSimplex, offered: readonly Pattern[]): boolean {
  let best: Pattern | null = null
  let highest = IMPROVES
  for (const pattern of offered) {
    const worth = simplex.worthOf(pattern)
    if (worth > highest) {
      highest = worth
      best = pattern
    }
  }
  if (best !== null) simplex.enter(best)
  return best !== null
}

const renamed = (pattern: Pattern, names: Int32Array): Pattern => ({
  kinds: pattern.kinds.map((kind) => names[kind]!),
  counts: pattern.counts,
})
