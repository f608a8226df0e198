import type { OneMachineJobs } from './weighted-tardiness.ts'

/**
 * Descent by dynasearch: one pass finds, by dynamic programming over positions, the best set of moves that do not overlap
 * and carries all of them out at once. Moves are insertions (a job goes earlier or later, those between shift) and
 * swaps of two jobs; a swap pass costs n^3 and comes only when no insertion helps.
 * @source R. K. Congram, C. N. Potts, S. L. van de Velde, INFORMS J. Computing 14 (2002) 52-67 (swaps); A. Grosso,
 * F. Della Croce, R. Tadei, Operations Research Letters 32 (2004) 68-72 (insertions)
 */
export class Dynasearch {
  /** Passes so far; each of them times the whole order once. */
  passes = 0
  private readonly durations: Float64Array
  private readonly weights: Float64Array
  private readonly dues: Float64Array
  /** The order under work, by position: durations, weights, due dates, completions and what each costs now. */
  private readonly p: Float64Array
  private readonly w: Float64Array
  private readonly d: Float64Array
  private readonly completion: Float64Array
  private readonly cost: Float64Array
  /** gain[k]: least (most negative) change by moves within the first k positions; and the last move of that set. */
  private readonly gain: Float64Array
  private readonly moveFrom: Int32Array
  private readonly moveKind: Uint8Array

  constructor(jobs: OneMachineJobs) {
    const count = jobs.durations.length
    this.durations = Float64Array.from(jobs.durations)
    this.weights = Float64Array.from(jobs.weights)
    this.dues = Float64Array.from(jobs.dues)
    this.p = new Float64Array(count)
    this.w = new Float64Array(count)
    this.d = new Float64Array(count)
    this.completion = new Float64Array(count)
    this.cost = new Float64Array(count)
    this.gain = new Float64Array(count + 1)
    this.moveFrom = new Int32Array(count + 1)
    this.moveKind = new Uint8Array(count + 1)
  }

  /**
   * Improves `order` in place until no set of moves helps.
   * @returns its weighted tardiness
   */
  descend(order: Int32Array): number {
    let total = this.time(order)
    while (total > 0) {
      this.planInsertions(order.length)
      if (this.gain[order.length]! >= 0) {
        this.planSwaps(order.length)
        if (this.gain[order.length]! >= 0) break
      }
      this.carryOut(order)
      total = this.time(order)
    }
    return total
  }

  private time(order: Int32Array): number {
    let clock = 0
    let total = 0
    for (let position = 0; position < order.length; position++) {
      const job = order[position]!
      clock += this.durations[job]!
      const weight = this.weights[job]!
      const due = this.dues[job]!
      const cost = clock > due ? weight * (clock - due) : 0
      this.p[position] = this.durations[job]!
      this.w[position] = weight
      this.d[position] = due
      this.completion[position] = clock
      this.cost[position] = cost
      total += cost
    }
    this.passes += 1
    return total
  }

  private planInsertions(count: number): void {
    const { p, w, d, completion, cost, gain, moveFrom, moveKind } = this
    gain.fill(0)
    moveKind.fill(STAY)
    for (let here = 0; here < count; here++) {
      const gainBefore = gain[here]!
      const length = p[here]!
      const weight = w[here]!
      const due = d[here]!
      let shifted = gainBefore - cost[here]!
      for (let to = here + 1; to < count; to++) {
        const late = completion[to]! - length - d[to]!
        shifted += (late > 0 ? w[to]! * late : 0) - cost[to]!
        const ownLate = completion[to]! - due
        const change = ownLate > 0 ? shifted + weight * ownLate : shifted
        if (change < gain[to + 1]!) {
          gain[to + 1] = change
          moveFrom[to + 1] = here
          moveKind[to + 1] = LATER
        }
      }
      let best = gain[here + 1]!
      if (gainBefore <= best) {
        best = gainBefore
        moveKind[here + 1] = STAY
      }
      shifted = -cost[here]!
      for (let from = here - 1; from >= 0; from--) {
        const late = completion[from]! + length - d[from]!
        shifted += (late > 0 ? w[from]! * late : 0) - cost[from]!
        const ownLate = completion[from]! - p[from]! + length - due
        const change = gain[from]! + (ownLate > 0 ? shifted + weight * ownLate : shifted)
        if (change < best) {
          best = change
          moveFrom[here + 1] = from
          moveKind[here + 1] = EARLIER
        }
      }
      gain[here + 1] = best
    }
  }

  private planSwaps(count: number): void {
    const { p, w, d, completion, cost, gain, moveFrom, moveKind } = this
    gain.fill(0)
    moveKind.fill(STAY)
    for (let here = 1; here < count; here++) {
      let best = gain[here]!
      moveKind[here + 1] = STAY
      for (let from = here - 1; from >= 0; from--) {
        const shift = p[here]! - p[from]!
        const lateHere = completion[from]! + shift - d[here]!
        const lateFrom = completion[here]! - d[from]!
        let change = gain[from]! - cost[here]! - cost[from]!
        if (lateHere > 0) change += w[here]! * lateHere
        if (lateFrom > 0) change += w[from]! * lateFrom
        if (shift > 0 && change >= best) continue
        if (shift !== 0) {
          for (let between = from + 1; between < here; between++) {
            const late = completion[between]! + shift - d[between]!
            change += (late > 0 ? w[between]! * late : 0) - cost[between]!
          }
        }
        if (change < best) {
          best = change
          moveFrom[here + 1] = from
          moveKind[here + 1] = SWAP
        }
      }
      gain[here + 1] = best
    }
  }

  private carryOut(order: Int32Array): void {
    let end = order.length
    while (end > 0) {
      const kind = this.moveKind[end]!
      if (kind === STAY) {
        end -= 1
        continue
      }
      const from = this.moveFrom[end]!
      const last = end - 1
      const first = order[from]!
      const final = order[last]!
      if (kind === LATER) order.copyWithin(from, from + 1, end)
      if (kind === EARLIER) order.copyWithin(from + 1, from, last)
      if (kind !== EARLIER) order[last] = first
      if (kind !== LATER) order[from] = final
      end = from
    }
  }
}

const STAY = 0
const LATER = 1
const EARLIER = 2
const SWAP = 3
