import type { Items, Stop } from './items.ts'

/**
 * Least slack: bin after bin is filled as full as the remaining items allow, beginning with the largest of them; a search for each
 * bin looks at no more than `nodes` beginnings.
 * @param members positions still to be packed, largest first
 * @source K. Fleszar, K. Hindi, Computers & OR 29 (2002) 821-839, after J. Gupta, J. Ho (1999)
 */
export function leastSlack(items: Items, members: readonly number[], nodes: number, stop: Stop): number[][] {
  const bins: number[][] = []
  let left = [...members]
  while (left.length > 0 && !stop()) {
    const bin = fullestBin(items, left, nodes)
    const taken = new Set(bin)
    bins.push(bin)
    left = left.filter((item) => !taken.has(item))
  }
  for (const item of left) bins.push([item])
  return bins
}

/** The first item and those that fill its bin best; ties go to the fewer, larger items because these are tried first. */
function fullestBin({ sizes, capacity }: Items, left: readonly number[], nodes: number): number[] {
  const first = left[0] ?? 0
  const suffix = new Float64Array(left.length + 1)
  for (let index = left.length - 1; index >= 0; index--) {
    suffix[index] = (suffix[index + 1] ?? 0) + (sizes[left[index] ?? 0] ?? 0)
  }
  let budget = nodes
  let bestRoom = Infinity
  let best: number[] = []
  const chosen: number[] = []
  const fill = (from: number, room: number): void => {
    if (room < bestRoom) {
      bestRoom = room
      best = [...chosen]
    }
    for (let index = from; index < left.length && bestRoom > 0 && budget > 0; index++) {
      const size = sizes[left[index] ?? 0] ?? 0
      if (room - (suffix[index] ?? 0) >= bestRoom) return
      if (size > room || (index > from && size === sizes[left[index - 1] ?? 0])) continue
      budget--
      chosen.push(left[index] ?? 0)
      fill(index + 1, room - size)
      chosen.pop()
    }
  }
  fill(1, capacity - (sizes[first] ?? 0))
  return [first, ...best]
}
