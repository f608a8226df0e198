import type { RandomStream } from '../../chance/seeded-random.ts'
import { completeBins } from './complete-bins.ts'
import type { Items, Stop } from './items.ts'
import { isProper, type Kinds, type Pattern } from './kinds.ts'
import { relaxation, type Relaxation } from './relaxation.ts'

/** A packing as patterns, bin after bin; null when this dive found none. */
export type Dive = readonly Pattern[] | null

/** So few items left are packed exhaustively instead of by rounding. */
const FEW_ITEMS = 24

const COMPLETION_EFFORT = 20_000

/**
 * Rounds the relaxation down to a packing into at most `target` bins: the patterns most used are fixed, the rest is relaxed again,
 * until so little is left that it can be completed exhaustively. Ends as soon as the relaxation shows that it cannot succeed.
 * @param noise 0 follows the relaxation; more strays from it, for another try
 */
export function dive(
  items: Items,
  kinds: Kinds,
  root: Relaxation,
  pool: Pattern[],
  target: number,
  random: RandomStream,
  noise: number,
  stop: Stop,
): Dive {
  const demand = kinds.counts.slice()
  const fixed: Pattern[] = []
  let relaxed = root
  for (;;) {
    const binsLeft = target - fixed.length
    if (Math.ceil(relaxed.value - 1e-5) > binsLeft) return null
    fixMostUsed(relaxed, demand, fixed, binsLeft, random, noise)
    const left = itemsLeft(kinds, demand)
    if (left.length === 0) return fixed.length <= target ? fixed : null
    if (left.length <= FEW_ITEMS) {
      const end = completeBins(items, left, target - fixed.length, COMPLETION_EFFORT, stop)
      return end.kind === 'found' ? [...fixed, ...end.bins.map((bin) => binPattern(kinds, items, bin))] : null
    }
    if (stop() || fixed.length >= target) return null
    relaxed = relaxation(kinds.sizes, demand, kinds.capacity, pool, stop)
    if (stop()) return null
  }
}

function fixMostUsed(
  relaxed: Relaxation,
  demand: Int32Array,
  fixed: Pattern[],
  binsLeft: number,
  random: RandomStream,
  noise: number,
): void {
  const ranked = relaxed.uses
    .map(({ pattern, use }) => ({ pattern, use, rank: use + noise * random.fraction() }))
    .toSorted((a, b) => b.rank - a.rank)
  const before = fixed.length
  for (const { pattern, use } of ranked) {
    for (let whole = Math.floor(use + 1e-6); whole > 0 && fixed.length - before < binsLeft; whole--) {
      if (!isProper(pattern, demand)) break
      take(pattern, demand)
      fixed.push(pattern)
    }
  }
  if (fixed.length > before) return
  const most = Math.max(1, Math.floor(ranked.length / 40))
  for (const { pattern, use } of ranked) {
    if (fixed.length - before >= most || (fixed.length > before && use < 0.6)) break
    if (!isProper(pattern, demand)) continue
    take(pattern, demand)
    fixed.push(pattern)
  }
}

function take(pattern: Pattern, demand: Int32Array): void {
  for (let index = 0; index < pattern.kinds.length; index++) demand[pattern.kinds[index]!]! -= pattern.counts[index]!
}

const itemsLeft = (kinds: Kinds, demand: Int32Array): number[] =>
  kinds.members.flatMap((same, kind) => same.slice(0, demand[kind]!))

function binPattern(kinds: Kinds, items: Items, bin: readonly number[]): Pattern {
  const counts = new Map<number, number>()
  for (const item of bin) {
    const kind = kinds.sizes.indexOf(items.sizes[item]!)
    counts.set(kind, (counts.get(kind) ?? 0) + 1)
  }
  return { kinds: [...counts.keys()], counts: [...counts.values()] }
}
