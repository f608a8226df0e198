import { normalQuantile, normalShare } from '../chance/quantiles.ts'

/** A promise that came true or did not. */
export interface CameTrue {
  /** The chance that was stated of it, 0..1. */
  readonly stated: number
  readonly kept: boolean
}

/** What a promise asks for: 4 chances in 5. */
const ASKED = 0.8
/**
 * How far one promise moves the share that is asked for. Measured in years of the benchmark: 0.03 follows a lost week too far, and swings back
 * for a year.
 */
const STEP = 0.01
/** Shares of promises missed between which it stays. */
const [LEAST_MISSED, MOST_MISSED] = [0.05, 0.4]
/** Fewer promises than this say little. */
export const RECORD_FROM = 20

/**
 * How much less sure a shop is of its days than its model says, by its own record, in standard deviations of a normal: above 0 where
 * more promises were missed than was stated, below 0 where more were kept; 0 with fewer than 20 promises. After each promise the
 * share of misses that the model is asked for moves by a fixed step towards what would have been right, so the share kept in the long run is
 * the one that was stated, whatever is wrong with the model.
 * @param promises the first that came due first
 * @source I. Gibbs, E. Candes, "Adaptive Conformal Inference Under Distribution Shift", NeurIPS 2021, equation (2), with the chance that
 * was stated of each day in place of one level for all
 */
export function lessSureByRecord(promises: readonly CameTrue[]): number {
  if (promises.length < RECORD_FROM) return 0
  let missed = 1 - ASKED
  for (const { stated, kept } of promises) {
    const moved = missed + STEP * (1 - stated - (kept ? 0 : 1))
    missed = Math.min(MOST_MISSED, Math.max(LEAST_MISSED, moved))
  }
  return normalQuantile(1 - missed) - normalQuantile(ASKED)
}

/** The chance by the model that is told as 4 in 5. @param lessSure see lessSureByRecord */
export const toldAsFourInFive = (lessSure: number): number => normalShare(normalQuantile(ASKED) + lessSure)
