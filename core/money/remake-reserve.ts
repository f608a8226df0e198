import { rounded } from './exact.ts'
import { type Ppm, WHOLE } from './rate.ts'

/** What a shop's log has of hands-on work whose result was lost, because it failed and was done again. Minutes. */
export interface RemakeRecord {
  /** Work that counts. */
  readonly goodMin: number
  readonly lostMin: number
  /** Pieces of orders that were begun, and how many of them were made again. */
  readonly pieces: number
  readonly again: number
}

/** What the maker says of it counts like 100 hours of work. Common practice, no source. */
const BELIEF_MIN = 100 * 60

/**
 * What to keep back for remakes, as a share of the cost: what was typed, moved by the shop's own record. The record weighs
 * Z = n / (n + k), with n minutes of good work and k = 100 hours; what was typed weighs 1 - Z.
 * @source credibility weighting: H. Bühlmann, "Experience rating and credibility", ASTIN Bulletin 4 (1967) 199-207 (from memory);
 *   it is the posterior mean of a gamma prior on a Poisson rate
 */
export function remakeShare(typed: Ppm, { goodMin, lostMin }: Pick<RemakeRecord, 'goodMin' | 'lostMin'>): Ppm {
  const share = rounded(
    BigInt(typed) * BigInt(BELIEF_MIN) + BigInt(lostMin) * BigInt(WHOLE),
    BigInt(BELIEF_MIN) + BigInt(goodMin),
  )
  return Math.min(WHOLE, share)
}
