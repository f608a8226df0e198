// Everything that chance decides in a year has a name (a shop, an order, a step and its attempt, a day), and its luck hangs on that
// name alone: the same in every policy, whatever else happens there, and the same on every machine.

/** A number in [0, 1) that belongs to a name. */
export function uniform(name: string): number {
  // FNV-1a over the characters, then the finisher of MurmurHash3, twice for 53 bits. Both from memory, public domain.
  let hash = 0x811c9dc5
  for (let index = 0; index < name.length; index++) hash = Math.imul(hash ^ name.charCodeAt(index), 0x01000193)
  const high = finished(hash)
  const low = finished(hash ^ 0x9e3779b9)
  return ((high >>> 5) * 0x4000000 + (low >>> 6)) / 0x20000000000000
}

function finished(hash: number): number {
  let mixed = hash
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b)
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35)
  return (mixed ^ (mixed >>> 16)) >>> 0
}

export const between = (name: string, least: number, most: number): number => least + (most - least) * uniform(name)

/** Standard normal, by the method of Box and Muller. */
export const normal = (name: string): number =>
  Math.sqrt(-2 * Math.log(1 - uniform(`${name}/radius`))) * Math.cos(2 * Math.PI * uniform(`${name}/angle`))

/** Student's t with whole degrees of freedom, scaled to the standard deviation 1 where it has one; null: normal. */
export function tailed(name: string, freedom: number | null): number {
  if (freedom === null) return normal(name)
  let sum = 0
  for (let degree = 0; degree < freedom; degree++) sum += normal(`${name}/${degree}`) ** 2
  const t = normal(name) / Math.sqrt(sum / freedom)
  return freedom > 2 ? t * Math.sqrt((freedom - 2) / freedom) : t
}

/** Triangular between `least` and `most` with the peak at `likely`. */
export function triangular(name: string, least: number, likely: number, most: number): number {
  if (most <= least) return likely
  const share = uniform(name)
  const peak = (likely - least) / (most - least)
  return share < peak
    ? least + Math.sqrt(share * (most - least) * (likely - least))
    : most - Math.sqrt((1 - share) * (most - least) * (most - likely))
}

/** How many come when `mean` are expected: Poisson. */
export function poisson(name: string, mean: number): number {
  let share = uniform(name)
  let term = Math.exp(-mean)
  let count = 0
  while (share >= term && count < 50) {
    share -= term
    count += 1
    term *= mean / count
  }
  return count
}

/** One of the items, as often as its weight says. */
export function weighted<T extends { readonly weight: number }>(name: string, items: readonly T[]): T {
  let left = uniform(name) * items.reduce((sum, { weight }) => sum + weight, 0)
  for (const item of items) {
    left -= item.weight
    if (left < 0) return item
  }
  return items[items.length - 1]!
}
