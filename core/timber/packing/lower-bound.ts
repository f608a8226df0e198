import type { Items } from './items.ts'

/**
 * No packing needs fewer bins: the best of the volume bound and of dual feasible functions over thresholds (bounds L2 of Martello
 * and Toth and those of Fekete and Schepers).
 * @source S. Martello, P. Toth, Knapsack Problems (1990) ch. 8; S. Fekete, J. Schepers, Math. Programming 91 (2001) 11-31
 */
export function packingLowerBound({ sizes, capacity, total }: Items): number {
  if (sizes.length === 0) return 0
  let best = Math.ceil(total / capacity)
  const half = capacity / 2
  const thresholds = new Set<number>(sizes.filter((size) => size <= half))
  for (const size of sizes) if (size > half) thresholds.add(capacity - size)
  for (const threshold of thresholds) {
    let scaled = 0
    for (const size of sizes) scaled += size > capacity - threshold ? capacity : size >= threshold ? size : 0
    best = Math.max(best, Math.ceil(scaled / capacity))
  }
  for (const threshold of thresholds) best = Math.max(best, roundedBound(sizes, capacity, threshold))
  for (let k = 2; k <= 20; k++) best = Math.max(best, steppedBound(sizes, capacity, k))
  return best
}

/** Sizes over one half count by how many pieces of `threshold` they leave no room for, others by how many they hold. */
function roundedBound(sizes: Int32Array, capacity: number, threshold: number): number {
  if (threshold < 1) return 0
  const whole = Math.floor(capacity / threshold)
  if (whole < 1) return 0
  let scaled = 0
  for (const size of sizes) {
    if (2 * size > capacity) scaled += 2 * (whole - Math.floor((capacity - size) / threshold))
    else if (2 * size === capacity) scaled += whole
    else scaled += 2 * Math.floor(size / threshold)
  }
  return Math.ceil(scaled / (2 * whole))
}

/** Sizes rounded up to k-ths of the capacity, where exact multiples of 1/(k + 1) keep their size. */
function steppedBound(sizes: Int32Array, capacity: number, k: number): number {
  let scaled = 0
  for (const size of sizes) {
    const steps = size * (k + 1)
    scaled += steps % capacity === 0 ? size / capacity : Math.floor(steps / capacity) / k
  }
  return Math.ceil(scaled - 1e-9)
}
