import type { Items } from './items.ts'

/** Items of one size together: sizes strictly decreasing, how many of each, and which positions they are. */
export interface Kinds {
  readonly sizes: Int32Array
  readonly counts: Int32Array
  readonly members: readonly (readonly number[])[]
  readonly capacity: number
}

/** A way to fill one bin: kinds (rising) and how many of each. */
export interface Pattern {
  readonly kinds: readonly number[]
  readonly counts: readonly number[]
}

export function kindsOf({ sizes, capacity }: Items): Kinds {
  const members: number[][] = []
  const distinct: number[] = []
  for (const [position, size] of sizes.entries()) {
    if (distinct.at(-1) === size) members.at(-1)?.push(position)
    else {
      distinct.push(size)
      members.push([position])
    }
  }
  return {
    sizes: Int32Array.from(distinct),
    counts: Int32Array.from(members, (same) => same.length),
    members,
    capacity,
  }
}

/** The pattern of a bin of positions. */
export function patternOf(kinds: Kinds, kindOfItem: Int32Array, bin: readonly number[]): Pattern {
  const counts = new Map<number, number>()
  for (const item of bin) counts.set(kindOfItem[item] ?? 0, (counts.get(kindOfItem[item] ?? 0) ?? 0) + 1)
  const sorted = [...counts].toSorted(([a], [b]) => a - b)
  return { kinds: sorted.map(([kind]) => kind), counts: sorted.map(([, count]) => count) }
}

/** Which kind each position is of. */
export function kindOfItems(kinds: Kinds, itemCount: number): Int32Array {
  const kindOf = new Int32Array(itemCount)
  for (const [kind, same] of kinds.members.entries()) for (const item of same) kindOf[item] = kind
  return kindOf
}

/** Whether as many of each kind are still wanted as the pattern holds. */
export const isProper = (pattern: Pattern, demand: Int32Array): boolean =>
  pattern.kinds.every((kind, index) => (pattern.counts[index] ?? 0) <= (demand[kind] ?? 0))
