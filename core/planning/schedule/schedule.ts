import type { Blocks } from './blocks.ts'
import { BlockPlacer } from './block-placer.ts'
import { TO_DO, type Compiled } from '../problem/compiled.ts'
import { Ledger } from './ledger.ts'
import type { Timetable } from '../rules/measured.ts'

/** A schedule being built: steps are placed block by block (serial schedule generation), taken out again and put back. */
export class Schedule extends Ledger {
  readonly #placer: BlockPlacer
  /** Blocks that close what started steps hold, per station. */
  readonly #closers: readonly (readonly number[])[]
  /** Blocks that wait for a station while what closes it is placed. */
  readonly #waiting = new Set<number>()

  constructor(compiled: Compiled, blocks: Blocks) {
    super(compiled, blocks)
    this.#placer = new BlockPlacer(this)
    this.#closers = this.#closersOfFacts()
  }

  /** Places all blocks in the order given, each after those that lead to it. False: see `obstacle`. */
  build(order: ArrayLike<number>): boolean {
    this.reset()
    for (let position = 0; position < order.length; position++) if (!this.place(order[position]!)) return false
    return true
  }

  /** Places a block and what leads to it. False: nothing of the block is placed, see `obstacle`. */
  place(block: number): boolean {
    if (this.isPlaced(block)) return true
    for (const before of this.blocks.before[block]!) if (!this.place(before)) return false
    if (this.#placer.place(block)) return true
    // What started steps hold may be in the way until the blocks that close it are placed.
    const obstacle = this.obstacle
    if (obstacle?.kind !== 'station' || this.#waiting.has(block)) return false
    this.#waiting.add(block)
    let closedSome = false
    for (const closer of this.#closers[obstacle.station]!) {
      if (closer === block || this.isPlaced(closer)) continue
      if (this.#leadsTo(block, closer)) continue
      if (this.place(closer)) closedSome = true
    }
    this.#waiting.delete(block)
    // One of the closers may have had to place this block itself.
    if (this.isPlaced(block)) return true
    if (closedSome && this.#placer.place(block)) return true
    this.obstacle = obstacle
    return false
  }

  /** Takes a placed block out again. What follows it must have been taken out before. */
  remove(block: number): void {
    const steps = this.blocks.steps[block]!
    this.full.forget()
    for (let position = steps.length - 1; position >= 0; position--) {
      if (this.placed[steps[position]!] === 1) this.unbook(steps[position]!)
    }
  }

  /** Puts a step back where it was, with the values that `start`, `end`, `crew`, `setUp` and `remedy` have for it. */
  restore(step: number): void {
    this.book(step)
  }

  /** Places a block as a timetable of the same problem has it; the caller knows that it fits. */
  copyBlock(block: number, other: Timetable): void {
    const { lagsInto } = this.compiled
    for (const step of this.blocks.steps[block]!) {
      this.start[step] = other.start[step]!
      this.end[step] = other.end[step]!
      this.crew[step] = other.crew[step]!
      this.setUp[step] = other.setUp[step]!
      this.remedy[step] = other.remedy[step]!
      this.book(step)
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++)
        this.missed[lagsInto.items[at]!] = other.missed[lagsInto.items[at]!]!
    }
  }

  #leadsTo(from: number, to: number): boolean {
    const seen = new Set<number>([to])
    const next = [to]
    for (let block = next.pop(); block !== undefined; block = next.pop()) {
      if (block === from) return true
      for (const before of this.blocks.before[block]!) {
        if (seen.has(before)) continue
        seen.add(before)
        next.push(before)
      }
    }
    return false
  }

  #closersOfFacts(): number[][] {
    const { state, holdStep, holdTarget, holdStation, capacity } = this.compiled
    const closers: Set<number>[] = Array.from(capacity, () => new Set())
    for (let hold = 0; hold < holdStep.length; hold++) {
      const target = holdTarget[hold]!
      if (target < 0 || state[holdStep[hold]!] === TO_DO || state[target] !== TO_DO) continue
      closers[holdStation[hold]!]!.add(this.blocks.of[target]!)
    }
    return closers.map((blocks) => [...blocks])
  }
}
