export interface BinPacking {
  readonly sizes: readonly number[]
  readonly capacity: number
}

/** Reads one instance: the number of items, the capacity, then as many sizes. */
export function readBinPacking(text: string): BinPacking {
  const [count = 0, capacity = 0, ...sizes] = text.trim().split(/\s+/).map(Number)
  if (sizes.length < count) throw new Error(`${count} sizes were announced, there are ${sizes.length}.`)
  return { sizes: sizes.slice(0, count), capacity }
}
