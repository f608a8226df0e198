import type { RandomStream } from '../../chance/seeded-random.ts'
import { TO_DO } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import { doneTimes, tardinessOf } from '../rules/measured.ts'
import type { Schedule } from '../schedule/schedule.ts'
import { Arrangements } from './arrangements.ts'
import { latestStarts } from './latest-starts.ts'

/** Blocks to take out, and the order in which to put back what came out (more may come out with them). */
export interface Move {
  readonly out: readonly number[]
  readonly order: (taken: readonly number[]) => readonly number[]
  /** Schedules that were generated to find it. */
  readonly schedules: number
  /** Where the move is not gone on with: takes back what it changed beyond the order of blocks. */
  readonly takeBack?: () => void
}

export type MoveKind = (typeof MOVE_KINDS)[number]

export const MOVE_KINDS = [
  'replace',
  'nudge',
  'shift',
  'shift-between',
  'shift-behind',
  'justify',
  'rearrange',
] as const

/** Commissions that are taken out in one move. */
const MOST_OUT = 4
/** Blocks of a commission that are shifted in one move. */
const MOST_SHIFTED = 3
const DAY = 1440

/** Neighbourhoods of a complete schedule. */
export class Moves {
  readonly #schedule: Schedule
  readonly #random: RandomStream
  readonly #open: readonly number[]
  readonly #blocksOf: readonly (readonly number[])[]
  readonly #arrangements: Arrangements

  constructor(schedule: Schedule, random: RandomStream) {
    const { compiled, blocks } = schedule
    this.#schedule = schedule
    this.#random = random
    const ofCommission = Array.from({ length: compiled.commissionCount }, () => new Set<number>())
    for (let step = 0; step < compiled.stepCount; step++)
      if (compiled.state[step] === TO_DO) ofCommission[compiled.commission[step]!]!.add(blocks.of[step]!)
    this.#blocksOf = ofCommission.map((set) => [...set].sort((a, b) => a - b))
    this.#arrangements = new Arrangements(compiled, blocks, random)
    this.#open = [...this.#blocksOf.keys()].filter((commission) => this.#blocksOf[commission]!.length > 0)
  }

  get isEmpty(): boolean {
    return this.#open.length === 0
  }

  /** Kinds that can change something here. */
  get kinds(): readonly MoveKind[] {
    return this.#arrangements.isEmpty ? MOVE_KINDS.filter((kind) => kind !== 'rearrange') : MOVE_KINDS
  }

  make(kind: MoveKind): Move {
    switch (kind) {
      case 'replace':
        return this.#replace()
      case 'nudge':
        return this.#nudge()
      case 'shift':
      case 'shift-between':
      case 'shift-behind':
        return this.#shift(kind)
      case 'justify':
        return this.#justify()
      case 'rearrange':
        return this.#rearrange()
    }
  }

  /** A few commissions that compete for the same weeks, one after the other. */
  #replace(): Move {
    const target = this.#target()
    const chosen = [target, ...this.#neighbours(target, this.#random.below(MOST_OUT))]
    if (this.#random.fraction() < 0.25) this.#shuffle(chosen)
    const asked = chosen.flatMap((commission) => this.#blocksOf[commission]!)
    const askedSet = new Set(asked)
    return { out: asked, order: (taken) => [...asked, ...taken.filter((block) => !askedSet.has(block))], schedules: 0 }
  }

  /** One commission is brought forward by some days, or another pushed back, and everything behind follows anew. */
  #nudge(): Move {
    const at = this.#starts()
    const target = this.#target()
    const days = DAY * (0.5 + 14 * this.#random.fraction() ** 2)
    const moved = this.#blocksOf[target]!
    const from = Math.min(...moved.map((block) => at[block]!)) - days
    const first = this.#random.fraction() < 0.5 ? 0 : this.#random.below(moved.length)
    for (const block of moved.slice(first)) at[block]! -= days
    if (this.#random.fraction() < 0.5) {
      const [other] = this.#neighbours(target, 1)
      if (other !== undefined) for (const block of this.#blocksOf[other]!) at[block]! += days
    }
    return { out: [...at.keys()].filter((block) => at[block]! >= from), order: inOrderOf(at), schedules: 0 }
  }

  /**
   * Some blocks of a commission change places with others of it, or of its neighbours.
   * Placed anew is what starts between the first and the last change, or all behind the first one, of whatever commission.
   */
  #shift(kind: 'shift' | 'shift-between' | 'shift-behind'): Move {
    const at = this.#starts()
    const target = this.#target()
    const own = this.#blocksOf[target]!
    const scope =
      kind === 'shift'
        ? [target, ...this.#neighbours(target, this.#random.below(3))].flatMap((each) => this.#blocksOf[each]!)
        : [...at.keys()]
    const around = own.length > 1 ? own : scope
    let first = Infinity
    let last = -Infinity
    for (const block of around) {
      first = Math.min(first, at[block]!)
      last = Math.max(last, at[block]!)
    }
    const span = Math.max(1, last - first)
    let from = Infinity
    let to = kind === 'shift-between' ? -Infinity : Infinity
    for (let left = 1 + this.#random.below(MOST_SHIFTED); left > 0; left--) {
      const block = own[this.#random.below(own.length)]!
      const by = span * this.#random.fraction() ** 2 * (this.#random.fraction() < 0.6 ? -1 : 1)
      from = Math.min(from, at[block]!, at[block]! + by)
      to = Math.max(to, at[block]!, at[block]! + by)
      at[block]! += by
    }
    return { out: scope.filter((block) => at[block]! >= from && at[block]! <= to), order: inOrderOf(at), schedules: 0 }
  }

  /** Everything as late as may be, then as early as may be in that order: what has time makes way for what has none. */
  #justify(): Move {
    const at = latestStarts(this.#schedule)
    return { out: [...at.keys()], order: inOrderOf(at), schedules: 1 }
  }

  /** The steps of one block are placed in another order, and what follows it anew. */
  #rearrange(): Move {
    const at = this.#starts()
    const { block, takeBack } = this.#arrangements.change()
    return { out: [block], order: inOrderOf(at), schedules: 0, takeBack }
  }

  #starts(): Float64Array {
    const { blocks, start } = this.#schedule
    return Float64Array.from(blocks.steps, (steps) => {
      let first = Infinity
      for (const step of steps) first = Math.min(first, start[step]!)
      return first
    })
  }

  /** A commission that is late, more often the later it is; or one without a promise; or any. */
  #target(): number {
    const { compiled } = this.#schedule
    const { promise } = compiled
    if (this.#open.length > 1 && this.#random.fraction() < 0.6) {
      const done = doneTimes(this.#schedule)
      const late = this.#open.map((each) => (promise[each]! < NEVER ? tardinessOf(compiled, each, done[each]!) : 0))
      const total = late.reduce((sum, each) => sum + each, 0)
      let left = this.#random.fraction() * total
      if (total > 0) {
        const found = this.#open.find((_, index) => (left -= late[index]!) <= 0)
        if (found !== undefined) return found
      }
      const unpromised = this.#open.filter((each) => promise[each] === NEVER)
      if (unpromised.length > 0) return unpromised[this.#random.below(unpromised.length)]!
    }
    return this.#open[this.#random.below(this.#open.length)]!
  }

  /** Commissions that are done shortly before the target, mostly. */
  #neighbours(target: number, count: number): number[] {
    if (count === 0) return []
    const done = doneTimes(this.#schedule)
    const byDone = this.#open.filter((each) => each !== target).sort((a, b) => done[a]! - done[b]!)
    let place = 0
    while (place < byDone.length && done[byDone[place]!]! < done[target]!) place += 1
    const chosen = new Set<number>()
    for (let tries = 0; tries < 4 * count && chosen.size < Math.min(count, byDone.length); tries++) {
      const reach = 2 + this.#random.below(2 + count * 4)
      const other = byDone[place - reach + this.#random.below(reach + 2)]
      if (other !== undefined) chosen.add(other)
    }
    return [...chosen]
  }

  #shuffle(items: number[]): void {
    for (let last = items.length - 1; last > 0; last--) {
      const other = this.#random.below(last + 1)
      const kept = items[last]!
      items[last] = items[other]!
      items[other] = kept
    }
  }
}

const inOrderOf =
  (at: Float64Array) =>
  (taken: readonly number[]): number[] =>
    [...taken].sort((a, b) => at[a]! - at[b]! || a - b)
