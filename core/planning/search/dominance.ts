import { NEVER } from '../problem/instants.ts'
import { TO_DO } from '../problem/compiled.ts'
import { readyAfterLag, tackyUntil } from '../rules/waits.ts'
import type { LeastTimes } from './least-times.ts'

/** Partial orders of the same steps that are remembered. */
const MOST_KEPT = 64

/** By the set of steps placed: what each partial order leaves to the rest. */
export class Dominance {
  readonly #times: LeastTimes
  readonly #hasFamilies: boolean
  readonly #seen = new Map<string, Int32Array[]>()

  constructor(times: LeastTimes) {
    this.#times = times
    this.#hasFamilies = times.open.some((step) => times.compiled.family[step]! >= 0)
  }

  /**
   * Whether another order of the same steps leaves makers, stations, air and what follows free no later, with no
   * commission further on. Not asked while a window is open (what is placed may still be raised) or a machine set up.
   */
  isDominated(from: number): boolean {
    const times = this.#times
    if (this.#hasFamilies || times.sequence.length < 2 || this.#hasOpenWindow()) return false
    const legacy = this.#legacy(from)
    const key = times.open.map((step) => (times.position[step]! >= 0 ? '1' : '0')).join('')
    const others = this.#seen.get(key)
    if (others === undefined) {
      this.#seen.set(key, [legacy])
      return false
    }
    if (others.some((other) => other.every((value, index) => value <= legacy[index]!))) return true
    if (others.length < MOST_KEPT) others.push(legacy)
    return false
  }

  #hasOpenWindow(): boolean {
    const times = this.#times
    const { lagMax, lagFrom, lagTo, state } = times.compiled
    for (let lag = 0; lag < lagMax.length; lag++) {
      if (lagMax[lag] === NEVER || state[lagFrom[lag]!] !== TO_DO || state[lagTo[lag]!] !== TO_DO) continue
      if (times.position[lagFrom[lag]!]! >= 0 && times.position[lagTo[lag]!]! < 0) return true
    }
    return false
  }

  /** What the placed steps leave to the others, each number the less the better. */
  #legacy(from: number): Int32Array {
    const times = this.#times
    const {
      commissionCount,
      commission,
      makerSessions,
      lagsInto,
      lagFrom,
      holdStep,
      holdStation,
      state,
      room,
      roomCount,
      dusty,
      tackyMin,
    } = times.compiled
    const numbers: number[] = [from]
    const position = times.sequence.length
    for (let maker = 0; maker < makerSessions.length; maker++)
      numbers.push(Math.max(from, times.makerFree(position, maker)))
    for (const step of times.open) {
      if (times.position[step]! >= 0) continue
      let ready = from
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        if (times.position[lagFrom[lag]!]! >= 0)
          ready = Math.max(ready, readyAfterLag(times.compiled, lag, times.end[lagFrom[lag]!]!))
      }
      numbers.push(ready)
    }
    const done = new Int32Array(commissionCount)
    const dry = new Int32Array(roomCount).fill(from)
    const settled = new Int32Array(roomCount).fill(from)
    for (const { step } of times.sequence) {
      done[commission[step]!] = Math.max(done[commission[step]!]!, times.end[step]!)
      if (tackyMin[step]! > 0)
        dry[room[step]!] = Math.max(dry[room[step]!]!, tackyUntil(times.compiled, step, times.end[step]!))
      if (dusty[step] === 1) settled[room[step]!] = Math.max(settled[room[step]!]!, times.end[step]!)
    }
    for (let hold = 0; hold < holdStation.length; hold++) {
      if (state[holdStep[hold]!] === TO_DO && times.position[holdStep[hold]!]! < 0) continue
      numbers.push(Math.max(from, times.holdEnd(hold, position)))
    }
    return Int32Array.from([...numbers, ...done, ...dry, ...settled])
  }
}
