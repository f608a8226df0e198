import type { RandomStream } from '../../chance/seeded-random.ts'
import type { MoveKind } from './moves.ts'

interface Known {
  /** What it has brought. */
  gain: number
  /** Schedules that it took. */
  spent: number
  tries: number
}

/** What each kind is taken to have brought before anything is known, and for how many schedules in how many tries. */
const AT_FIRST: Readonly<Record<MoveKind, Known>> = {
  replace: { gain: 1, spent: 5, tries: 40 },
  nudge: { gain: 0.1, spent: 5, tries: 15 },
  shift: { gain: 1, spent: 5, tries: 50 },
  'shift-between': { gain: 0.5, spent: 5, tries: 20 },
  'shift-behind': { gain: 0.5, spent: 5, tries: 15 },
  justify: { gain: 2, spent: 5, tries: 3 },
  rearrange: { gain: 1, spent: 5, tries: 20 },
}
/** Share of the schedules that is spread over all kinds alike, so that none is lost for good. */
const ANY = 0.6
/** How fast what was learned is forgotten, in schedules. */
const MEMORY = 500

/**
 * Which kind of move to try next: more often the more it has brought on the problem at hand for the schedules that it took
 * (adaptive large-neighbourhood search: S. Ropke, D. Pisinger, Transportation Science 40 (2006) 455-472).
 */
export class MoveChoice {
  readonly #kinds: readonly MoveKind[]
  readonly #known: readonly Known[]
  readonly #random: RandomStream

  constructor(kinds: readonly MoveKind[], random: RandomStream) {
    this.#kinds = kinds
    this.#known = kinds.map((kind) => ({ ...AT_FIRST[kind] }))
    this.#random = random
  }

  next(): MoveKind {
    const known = this.#known
    let rates = 0
    for (const { gain, spent } of known) rates += gain / spent
    // What costs more is tried less often, so that schedules are spent as the rates say.
    const shares = known.map(
      ({ gain, spent, tries }) => ((ANY / known.length + ((1 - ANY) * gain) / spent / rates) * tries) / spent,
    )
    let left = this.#random.fraction() * shares.reduce((sum, share) => sum + share, 0)
    const index = shares.findIndex((share) => (left -= share) <= 0)
    return this.#kinds[index] ?? 'replace'
  }

  learn(kind: MoveKind, gain: number, schedules: number): void {
    const known = this.#known[this.#kinds.indexOf(kind)]!
    const kept = Math.exp(-schedules / MEMORY)
    known.gain = known.gain * kept + gain
    known.spent = known.spent * kept + schedules
    known.tries = known.tries * kept + 1
  }
}
