import { setImmediate } from 'node:timers/promises'

/** Where a plan takes longer than that, what is shown is of before, as while any plan is made. */
const LONGEST_WAIT_MS = 10_000

/** What was kept and does not stand in book and plan yet. Whoever asks next waits for it. */
export class CatchingUp {
  #following: Promise<void> | null = null

  /**
   * Catches up once the answer to whoever pressed is on its way, as reading a long book holds up this thread.
   * @returns settled when it has ended, however long that takes
   */
  begin(work: () => Promise<unknown>): Promise<unknown> {
    const { promise: followed, resolve } = Promise.withResolvers<void>()
    const late = setTimeout(resolve, LONGEST_WAIT_MS)
    late.unref()
    const mine: Promise<void> = Promise.all([this.#following, followed]).then(() => {
      if (this.#following === mine) this.#following = null
    })
    this.#following = mine
    return setImmediate()
      .then(work)
      .finally(() => {
        clearTimeout(late)
        resolve()
      })
  }

  /** Lets those who wait go on one after the other: each finds what the one before it kept, and waits again for that. */
  async ended(): Promise<void> {
    while (this.#following !== null) {
      await this.#following
      await setImmediate()
    }
  }
}
