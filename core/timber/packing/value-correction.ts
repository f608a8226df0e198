import type { RandomStream } from '../../chance/seeded-random.ts'
import { bestPattern } from './best-pattern.ts'
import type { Stop } from './items.ts'
import type { Kinds, Pattern } from './kinds.ts'

/** Patterns tried for one bin: a good one is enough here. */
const PRICING_EFFORT = 3000

/**
 * Packs bin after bin, each the most valuable pattern of what is left, and corrects the values by the waste each item was packed
 * with, so that the next round packs the awkward ones first. Returns the best packing of some rounds.
 * @param target ends as soon as a packing has no more bins than this
 * @source G. Belov, G. Scheithauer, Operations Research Letters 34 (2006), after E. Mukhacheva: sequential value correction
 */
export function valueCorrection(
  kinds: Kinds,
  target: number,
  rounds: number,
  random: RandomStream,
  stop: Stop,
): readonly Pattern[] | null {
  const { sizes, counts, capacity } = kinds
  const values = Float64Array.from(sizes)
  let best: readonly Pattern[] | null = null
  for (let round = 0; round < rounds && !stop(); round++) {
    const power = 1 + 0.08 * random.fraction()
    const inertia = 0.5 + random.fraction()
    const left = counts.slice()
    let leftTotal = left.reduce((sum, count, kind) => sum + count * sizes[kind]!, 0)
    const packed: Pattern[] = []
    while (leftTotal > 0 && packed.length + Math.ceil(leftTotal / capacity) < (best?.length ?? Infinity)) {
      if (stop()) return best
      const pattern = bestPattern(sizes, left, values, capacity, PRICING_EFFORT)
      if (pattern === null) return best
      let load = 0
      for (let index = 0; index < pattern.kinds.length; index++) {
        load += pattern.counts[index]! * sizes[pattern.kinds[index]!]!
      }
      for (let index = 0; index < pattern.kinds.length; index++) {
        const kind = pattern.kinds[index]!
        const used = pattern.counts[index]!
        const seen = inertia * (counts[kind]! + left[kind]!)
        const deserved = (capacity / load) * sizes[kind]! ** power
        values[kind] = (seen * values[kind]! + used * deserved) / (seen + used)
        left[kind]! -= used
      }
      leftTotal -= load
      packed.push({ kinds: pattern.kinds, counts: pattern.counts })
    }
    if (leftTotal > 0) continue
    best = packed
    if (packed.length <= target) return best
  }
  return best
}
