/** Work that must not meet other work of its kind: each waits until the one before has ended, however it ended. */
export class Turns {
  #last: Promise<unknown> = Promise.resolve()

  take<T>(work: () => Promise<T>): Promise<T> {
    const next = this.#last.then(work)
    this.#last = next.catch(() => undefined)
    return next
  }

  /** Settled once everything is over that has asked for a turn until now. */
  ended(): Promise<unknown> {
    return this.#last
  }
}
