/**
 * Whole sizes to be packed into equal bins, largest first. Positions here are positions in that order; `original` leads back to
 * the order in which they were asked about.
 */
export interface Items {
  readonly sizes: Int32Array
  readonly original: Int32Array
  readonly capacity: number
  readonly total: number
}

/** Answers true when the search has to come to its end. */
export type Stop = () => boolean

/**
 * Sizes that share a divisor are divided by it, and the capacity with them: the same bins fit, and smaller numbers are quicker.
 * @param sizes whole numbers from 1 to `capacity`
 */
export function itemsOf(sizes: readonly number[], capacity: number): Items {
  const divisor = sizes.reduce(commonDivisor, 0) || 1
  const original = Int32Array.from(sizes.keys()).sort((a, b) => sizes[b]! - sizes[a]! || a - b)
  const sorted = original.map((position) => sizes[position]! / divisor)
  const total = sorted.reduce((sum, size) => sum + size, 0)
  return { sizes: sorted, original, capacity: Math.floor(capacity / divisor), total }
}

const commonDivisor = (a: number, b: number): number => (b === 0 ? a : commonDivisor(b, a % b))
