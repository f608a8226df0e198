/** From an instant (minutes) on a piece waits in a place of the almanac, by its id; null: in the shop. */
export interface Stay {
  readonly from: number
  readonly place: string | null
}

/** Where it waits at an instant; `stays` oldest first. Before the first of them it is in the shop. */
export const placeAt = (stays: readonly Stay[], at: number): string | null =>
  stays.findLast(({ from }) => from <= at)?.place ?? null

/** Stretches of a function of time, each until the next one, the last for ever; what lies before the first counts to it. */
interface Segment {
  readonly from: number
}

/**
 * What a piece lived through that was carried about: pieces of the shop's segments and of each place's, joined where it was moved.
 * @param inPlace segments of a place; null where nothing is known of it (any more): the shop's count
 */
export function alongStays<T extends Segment>(
  inShop: readonly T[],
  stays: readonly Stay[],
  inPlace: (place: string) => readonly T[] | null,
): readonly T[] {
  if (stays.length === 0) return inShop
  const found: T[] = []
  const first = Math.min(stays[0]?.from ?? 0, inShop[0]?.from ?? 0)
  for (const [index, stay] of [{ from: first, place: null }, ...stays].entries()) {
    const until = stays[index]?.from ?? Infinity
    if (until <= stay.from) continue
    const segments = (stay.place === null ? null : inPlace(stay.place)) ?? inShop
    const begin = Math.max(
      0,
      segments.findLastIndex(({ from }) => from <= stay.from),
    )
    for (const [position, segment] of segments.slice(begin).entries()) {
      if (segment.from >= until) break
      found.push(position === 0 ? { ...segment, from: stay.from } : segment)
    }
  }
  return found
}
