import { LivedShop } from './lived-shop.ts'
import type { Course } from './course.ts'
import type { Draws } from './draws.ts'

/** What came of the replications that were lived through, by commission. */
export interface Lived {
  /** When each commission that was asked about was done in each of them; of others nothing is known. */
  readonly done: readonly Int32Array[]
  /** Windows that were missed, of all of them together. */
  readonly missed: Int32Array
}

/** Lives through replications of a plan, as many as are asked for: a few for a quick look, the others when they are wanted. */
export class LivedPlan {
  readonly #shop: LivedShop
  readonly #done: readonly Int32Array[]
  #runs = 0

  /** @param asked positions of the commissions whose ends are wanted: none is lived further than to the last of these */
  constructor(course: Course, draws: Draws, asked: Iterable<number>) {
    this.#shop = new LivedShop(course, draws, asked)
    this.#done = Array.from({ length: course.compiled.commissionCount }, () => new Int32Array(draws.count))
  }

  /** The first so many replications, and any that were lived through before. */
  through(runs: number): Lived {
    for (; this.#runs < runs; this.#runs++) {
      const ends = this.#shop.live(this.#runs)
      for (let commission = 0; commission < ends.length; commission++)
        this.#done[commission]![this.#runs] = ends[commission]!
    }
    return { done: this.#done.map((all) => all.subarray(0, this.#runs)), missed: this.#shop.missed }
  }
}
