import { randomStream } from '../../chance/seeded-random.ts'
import { bestFit } from './best-fit.ts'
import { completeBins } from './complete-bins.ts'
import { dive } from './dive.ts'
import { itemsOf, type Stop } from './items.ts'
import { kindOfItems, kindsOf, patternOf, type Kinds, type Pattern } from './kinds.ts'
import { leastSlack } from './least-slack.ts'
import { packingLowerBound } from './lower-bound.ts'
import { relaxation } from './relaxation.ts'
import { valueCorrection } from './value-correction.ts'

/** A packing into equal bins, and how good it is known to be. */
export interface Packing {
  /** Bins as positions in the sizes asked about. */
  readonly bins: readonly (readonly number[])[]
  /** No packing has fewer bins; equal to the number of bins when this one is proved best. */
  readonly lowerBound: number
}

export interface PackingEffort {
  readonly seed?: number
  /** How many times the relaxation is rounded before giving up on one bin less. */
  readonly tries?: number
  /** Asked now and then; true ends the search. With a clock in it, the same question may get different answers. */
  readonly stop?: Stop
}

/** After so many dives that failed, value correction and a longer complete search are tried again. */
const OTHER_WAYS_EVERY = 6

/**
 * Packs whole sizes into as few equal bins as it finds. Ends by itself when its lower bound proves that there are no fewer, else
 * after `tries`; the same seed gives the same packing.
 *
 * In turn, each only if the ones before did not reach the lower bound: best fit, least slack, sequential value correction, a short
 * complete search, the relaxation over patterns (which also raises the bound), and dives that round it, now and then a
 * longer complete search in between.
 * @param sizes whole numbers, 1..capacity
 */
export function packBins(
  sizes: readonly number[],
  capacity: number,
  { seed = 1, tries = 20, stop = () => false }: PackingEffort = {},
): Packing {
  const items = itemsOf(sizes, capacity)
  const everything = [...items.sizes.keys()]
  const random = randomStream(seed)
  let bound = packingLowerBound(items)
  let best: readonly (readonly number[])[] = bestFit(items, everything)
  /** Keeps the better packing; true when there is nothing left to gain. */
  const settled = (found: readonly (readonly number[])[] | null): boolean => {
    if (found !== null && found.length < best.length) best = found
    return best.length <= bound || stop()
  }
  const answer = (): Packing => ({
    bins: best.map((bin) => bin.map((item) => items.original[item]!)),
    lowerBound: bound,
  })
  const complete = (effort: number): boolean => {
    const completion = completeBins(items, everything, best.length - 1, effort, stop)
    if (completion.kind === 'none') bound = best.length
    return settled(completion.kind === 'found' ? completion.bins : null)
  }

  if (settled(null)) return answer()
  for (const nodes of [100, 1000]) if (settled(leastSlack(items, everything, nodes, stop))) return answer()
  const kinds = kindsOf(items)
  const corrected = valueCorrection(kinds, bound, 10, random, stop)
  if (settled(corrected === null ? null : binsOf(kinds, corrected)) || complete(30_000)) return answer()

  const kindOf = kindOfItems(kinds, everything.length)
  const pool: Pattern[] = best.map((bin) => patternOf(kinds, kindOf, bin))
  const root = relaxation(kinds.sizes, kinds.counts, kinds.capacity, pool, stop)
  if (root.proved) bound = Math.max(bound, Math.ceil(root.value - 1e-5))
  for (let tried = 0; tried < tries && !settled(null); tried++) {
    const noise = tried === 0 ? 0 : 0.1 + 0.02 * (tried % 20)
    const dived = dive(items, kinds, root, pool, best.length - 1, random, noise, stop)
    if (settled(dived === null ? null : binsOf(kinds, dived))) break
    if (tried % OTHER_WAYS_EVERY !== OTHER_WAYS_EVERY - 1) continue
    const again = valueCorrection(kinds, best.length - 1, 3, random, stop)
    if (settled(again === null ? null : binsOf(kinds, again))) break
    if (complete(30_000 * 2 ** Math.min(tried / OTHER_WAYS_EVERY, 20))) break
  }
  return answer()
}

/** Patterns back to positions, each used once. */
function binsOf(kinds: Kinds, patterns: readonly Pattern[]): number[][] {
  const used = new Int32Array(kinds.counts.length)
  return patterns.map((pattern) =>
    pattern.kinds.flatMap((kind, index) => {
      const from = used[kind]!
      used[kind]! += pattern.counts[index]!
      return kinds.members[kind]!.slice(from, used[kind])
    }),
  )
}
