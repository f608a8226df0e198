import type { Items, Stop } from './items.ts'

/** What an exhaustive search came to. `none` is a proof; `gave-up` is not. */
export type Completion =
  { readonly kind: 'found'; readonly bins: number[][] } | { readonly kind: 'none' } | { readonly kind: 'gave-up' }

/**
 * Looks for a packing of `members` into at most `binLimit` bins, bin after bin: the largest item left and every undominated way to
 * complete its bin, fullest first. Exhaustive within `effort` items tried in a bin.
 * @param members positions, largest first
 * @source R. Korf, AAAI 2002 and IJCAI 2003 (bin completion); dominance of S. Martello and P. Toth (1990)
 */
export function completeBins(
  items: Items,
  members: readonly number[],
  binLimit: number,
  effort: number,
  stop: Stop,
): Completion {
  const { sizes, capacity } = items
  const budget = { left: effort }
  const bins: number[][] = []

  const search = (left: readonly number[], sum: number): 'found' | 'none' | 'gave-up' => {
    if (left.length === 0) return 'found'
    const spare = (binLimit - bins.length) * capacity - sum
    if (spare < 0) return 'none'
    if (budget.left <= 0 || stop()) return 'gave-up'
    let complete = true
    for (const bin of completions(sizes, left, capacity, spare, budget)) {
      if (bin === 'more') {
        complete = false
        break
      }
      const taken = new Set(bin)
      bins.push([...bin])
      const rest = left.filter((item) => !taken.has(item))
      const answer = search(rest, sum - bin.reduce((load, item) => load + (sizes[item] ?? 0), 0))
      if (answer === 'found') return 'found'
      bins.pop()
      if (answer === 'gave-up') return 'gave-up'
    }
    return complete ? 'none' : 'gave-up'
  }

  const answer = search(
    members,
    members.reduce((sum, item) => sum + (sizes[item] ?? 0), 0),
  )
  return answer === 'found' ? { kind: 'found', bins } : { kind: answer }
}

/** More ways than this to complete one bin are not looked at: the search then proves nothing. */
const MOST_COMPLETIONS = 400

/** Undominated ways to fill the bin of the first item with at most `spare` left over, fullest first; 'more' when cut off. */
function completions(
  sizes: Int32Array,
  left: readonly number[],
  capacity: number,
  spare: number,
  budget: { left: number },
): readonly (readonly number[] | 'more')[] {
  const found: { readonly items: readonly number[]; readonly room: number }[] = []
  const chosen: number[] = [left[0] ?? 0]
  const smallest = sizes[left.at(-1) ?? 0] ?? 0
  const suffix = new Float64Array(left.length + 1)
  for (let index = left.length - 1; index >= 0; index--) {
    suffix[index] = (suffix[index + 1] ?? 0) + (sizes[left[index] ?? 0] ?? 0)
  }
  let cut = false
  const fill = (from: number, room: number): void => {
    if (cut) return
    if (room <= spare && (room < smallest || from >= left.length || !fitsMore(sizes, left, chosen, room))) {
      if (!isDominated(sizes, left, chosen, room)) found.push({ items: [...chosen], room })
      if (found.length >= MOST_COMPLETIONS) cut = true
    }
    for (let index = from; index < left.length; index++) {
      if (room - (suffix[index] ?? 0) > spare) return
      const size = sizes[left[index] ?? 0] ?? 0
      if (size > room || (index > from && size === sizes[left[index - 1] ?? 0])) continue
      if (--budget.left < 0) {
        cut = true
        return
      }
      chosen.push(left[index] ?? 0)
      fill(index + 1, room - size)
      chosen.pop()
    }
  }
  fill(1, capacity - (sizes[left[0] ?? 0] ?? 0))
  found.sort((a, b) => a.room - b.room)
  const bins: (readonly number[] | 'more')[] = found.map((one) => one.items)
  if (cut) bins.push('more')
  return bins
}

/** Whether an item that was left out would still fit: then the bin with it is no worse. */
function fitsMore(sizes: Int32Array, left: readonly number[], chosen: readonly number[], room: number): boolean {
  for (let index = left.length - 1; index > 0; index--) {
    const item = left[index] ?? 0
    if ((sizes[item] ?? 0) > room) return false
    if (!chosen.includes(item)) return true
  }
  return false
}

/** Whether one chosen item could be changed for a larger one left out: then the bin with that one is no worse. */
function isDominated(sizes: Int32Array, left: readonly number[], chosen: readonly number[], room: number): boolean {
  if (room === 0) return false
  for (let position = 1; position < chosen.length; position++) {
    const size = sizes[chosen[position] ?? 0] ?? 0
    for (let index = left.indexOf(chosen[position] ?? 0) - 1; index > 0; index--) {
      const larger = sizes[left[index] ?? 0] ?? 0
      if (larger - size > room) break
      if (larger > size && !chosen.includes(left[index] ?? 0)) return true
    }
  }
  return false
}
