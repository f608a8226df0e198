import type { StepEntry } from '../book/book.ts'

/** When somebody pressed that work was begun, put down or finished: instants, each list in order of time. */
export interface Presses {
  readonly all: readonly number[]
  readonly started: readonly number[]
  readonly paused: readonly number[]
}

export function pressesOf(entries: readonly Pick<StepEntry, 'atMin' | 'action'>[]): Presses {
  const at = (...kinds: readonly string[]): number[] =>
    entries.flatMap(({ atMin, action }) => (kinds.includes(action.kind) ? [atMin] : [])).sort((a, b) => a - b)
  return { all: at('started', 'paused', 'done'), started: at('started'), paused: at('paused') }
}

/** The same with work that was begun at these instants too. */
export function andStarted(presses: Presses, at: readonly number[]): Presses {
  if (at.length === 0) return presses
  const joined = (sorted: readonly number[]): number[] => [...sorted, ...at].sort((a, b) => a - b)
  return { all: joined(presses.all), started: joined(presses.started), paused: presses.paused }
}

/** The first of the instants from one to another, both included; null: there is none. */
export function firstIn(sorted: readonly number[], from: number, to: number): number | null {
  const at = sorted[placeOf(sorted, from)]
  return at !== undefined && at <= to ? at : null
}

/** The last of them. */
export function lastIn(sorted: readonly number[], from: number, to: number): number | null {
  const at = sorted[placeOf(sorted, to + 1) - 1]
  return at !== undefined && at >= from ? at : null
}

/** Place of the first that is not before an instant. */
function placeOf(sorted: readonly number[], instant: number): number {
  let [low, high] = [0, sorted.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (sorted[middle]! < instant) low = middle + 1
    else high = middle
  }
  return low
}
