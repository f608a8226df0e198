/**
 * Needs of several resources in one machine word: every resource has a field wide enough for its capacity and one guard bit
 * above it. With the guards set in what is free, `free - need` leaves all guards standing exactly if every field is enough,
 * so that one subtraction compares all resources at once.
 */
export interface PackedNeeds {
  /** words[word][activity]; as many words as it takes, one for up to about 31 bits of fields. */
  readonly words: readonly Int32Array[]
  readonly guard: readonly number[]
  /** Full capacity with the guards set. */
  readonly capacity: readonly number[]
}

/** @param capacities whole numbers >= 0 below 2^31; needs at most the capacity */
export function packNeeds(needs: readonly (readonly number[])[], capacities: readonly number[]): PackedNeeds {
  const words: Int32Array[] = []
  const guard: number[] = []
  const capacity: number[] = []
  let usedBits = 32
  capacities.forEach((units, resource) => {
    if (needs.every((need) => need[resource] === 0)) return
    const fieldBits = 32 - Math.clz32(units)
    if (usedBits + fieldBits + 1 > 32) {
      words.push(new Int32Array(needs.length))
      guard.push(0)
      capacity.push(0)
      usedBits = 0
    }
    const word = words.length - 1
    needs.forEach((need, activity) => {
      words[word]![activity]! |= need[resource]! << usedBits
    })
    guard[word]! |= 1 << (usedBits + fieldBits)
    capacity[word]! |= units << usedBits
    usedBits += fieldBits + 1
  })
  return { words, guard, capacity: capacity.map((free, word) => free | guard[word]!) }
}
