import type { PackedNeeds } from './packed-needs.ts'

/**
 * What is left of the resources beside the compulsory parts, that is beside the times at which activities run wherever in
 * their bounds they start. Several resources share a word, see `packNeeds`.
 */
export class CompulsoryProfile {
  private readonly needs: PackedNeeds
  private readonly free: readonly Int32Array[]

  constructor(needs: PackedNeeds, horizon: number) {
    this.needs = needs
    this.free = needs.capacity.map((capacity) => new Int32Array(horizon + 1).fill(capacity))
  }

  needsNothing(activity: number): boolean {
    return this.needs.words.every((word) => word[activity] === 0)
  }

  /** The activity certainly runs in [from, to) as well. @returns a time at which there is now too little, or -1 */
  occupy(activity: number, from: number, to: number): number {
    let crowded = -1
    const { words, guard } = this.needs
    for (let word = 0; word < words.length; word++) {
      const need = words[word]![activity]!
      if (need === 0) continue
      const free = this.free[word]!
      const guards = guard[word]!
      for (let time = from; time < to; time++) {
        const before = free[time]!
        free[time] = before - need
        if (((before - need) & guards) !== guards) crowded = time
      }
    }
    return crowded
  }

  release(activity: number, from: number, to: number): void {
    const { words } = this.needs
    for (let word = 0; word < words.length; word++) {
      const need = words[word]![activity]!
      if (need === 0) continue
      const free = this.free[word]!
      for (let time = from; time < to; time++) free[time]! += need
    }
  }

  /** Last time in [from, to) at which the activity does not fit; -1 if there is none. */
  lastCrowded(activity: number, from: number, to: number): number {
    const { words, guard } = this.needs
    let found = -1
    for (let word = 0; word < words.length; word++) {
      const need = words[word]![activity]!
      if (need === 0) continue
      const free = this.free[word]!
      const guards = guard[word]!
      for (let time = to - 1; time >= from && time > found; time--) {
        if (((free[time]! - need) & guards) !== guards) {
          found = time
          break
        }
      }
    }
    return found
  }

  /** First time in [from, to) at which the activity does not fit; -1 if there is none. */
  firstCrowded(activity: number, from: number, to: number): number {
    const { words, guard } = this.needs
    let found = to
    for (let word = 0; word < words.length; word++) {
      const need = words[word]![activity]!
      if (need === 0) continue
      const free = this.free[word]!
      const guards = guard[word]!
      for (let time = from; time < found; time++) {
        if (((free[time]! - need) & guards) !== guards) {
          found = time
          break
        }
      }
    }
    return found === to ? -1 : found
  }
}
