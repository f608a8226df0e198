import type { Items } from './items.ts'

/**
 * Best fit: each item, in the given order, goes where it leaves the least room. In decreasing order it needs at most about 11/9 of
 * the least number of bins.
 */
export function bestFit({ sizes, capacity }: Items, order: Iterable<number>): number[][] {
  const bins: number[][] = []
  const room: number[] = []
  for (const item of order) {
    const size = sizes[item] ?? 0
    let best = -1
    for (let bin = 0; bin < room.length; bin++) {
      const left = room[bin] ?? 0
      if (left >= size && (best < 0 || left < (room[best] ?? 0))) best = bin
    }
    if (best < 0) {
      bins.push([item])
      room.push(capacity - size)
    } else {
      bins[best]?.push(item)
      room[best] = (room[best] ?? 0) - size
    }
  }
  return bins
}
