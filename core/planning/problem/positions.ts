const known = new WeakMap<readonly object[], ReadonlyMap<string, number>>()

/**
 * Position of each id in a list; of two that are the same, the last. Remembered for the list as long as that lives: lists
 * are plain data and never changed.
 */
export function positionsOf(items: readonly { readonly id: string }[]): ReadonlyMap<string, number> {
  const before = known.get(items)
  if (before !== undefined) return before
  const positions = new Map<string, number>()
  for (let position = 0; position < items.length; position++) positions.set(items[position]!.id, position)
  known.set(items, positions)
  return positions
}
