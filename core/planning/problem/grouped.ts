/** Positions grouped by a key: those of group g are `items[from[g]] ... items[from[g + 1] - 1]`, in order. */
export interface Grouped {
  readonly from: Int32Array
  readonly items: Int32Array
}

/** @param keys key of each position; those below 0 are in no group */
export function groupedBy(keys: Int32Array, groups: number): Grouped {
  const from = new Int32Array(groups + 1)
  for (let position = 0; position < keys.length; position++) {
    const key = keys[position]!
    if (key >= 0) from[key + 1]! += 1
  }
  for (let group = 0; group < groups; group++) from[group + 1]! += from[group]!
  const next = from.slice()
  const items = new Int32Array(from[groups]!)
  for (let position = 0; position < keys.length; position++) {
    const key = keys[position]!
    if (key >= 0) items[next[key]!++] = position
  }
  return { from, items }
}
