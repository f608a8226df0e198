import type { Compiled } from '../problem/compiled.ts'
import { cureOver } from '../rules/cure-time.ts'

/** Dust and tacky finish in each room, at a moment that moves on. */
export class AirInRooms {
  readonly #compiled: Compiled
  readonly #wetUntil: Int32Array
  readonly #dustUntil: Int32Array

  constructor(compiled: Compiled) {
    this.#compiled = compiled
    this.#wetUntil = new Int32Array(compiled.roomCount)
    this.#dustUntil = new Int32Array(compiled.roomCount)
  }

  reset(): void {
    this.#wetUntil.fill(0)
    this.#dustUntil.fill(0)
  }

  /** Whether a step may begin: a dusty one where nothing is tacky, one that leaves something tacky where no dust flies. */
  isFitFor(step: number, now: number): boolean {
    const { dusty, tackyMin, room } = this.#compiled
    if (dusty[step] === 1 && this.#wetUntil[room[step]!]! > now) return false
    return tackyMin[step] === 0 || this.#dustUntil[room[step]!]! <= now
  }

  raiseDust(step: number, end: number): void {
    const { dusty, room } = this.#compiled
    if (dusty[step] === 1) this.#dustUntil[room[step]!] = Math.max(this.#dustUntil[room[step]!]!, end)
  }

  leaveTacky(step: number, end: number): void {
    const { tackyMin, tackyClock, clocks, room } = this.#compiled
    if (tackyMin[step] === 0) return
    const clock = tackyClock[step]!
    const dry = clock < 0 ? end + tackyMin[step]! : cureOver(clocks[clock]!, end, tackyMin[step]!)
    this.#wetUntil[room[step]!] = Math.max(this.#wetUntil[room[step]!]!, dry)
  }

  /** The next instant at which dust has settled or a finish is dry; `otherwise` where that comes first. */
  nextAfter(now: number, otherwise: number): number {
    let next = otherwise
    for (let room = 0; room < this.#wetUntil.length; room++) {
      const [wet, dust] = [this.#wetUntil[room]!, this.#dustUntil[room]!]
      if (wet > now && wet < next) next = wet
      if (dust > now && dust < next) next = dust
    }
    return next
  }
}
