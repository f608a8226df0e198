import { tick } from 'svelte'

/** Questions of the screens that the desk has not answered yet, and how often it told of changes, after which they are asked anew. */
class AnswersDue {
  #changesHeard = 0
  #hearing = Promise.withResolvers<void>()
  readonly #due = new Set<Promise<unknown>>()

  get changesHeard(): number {
    return this.#changesHeard
  }

  hearChange(): void {
    this.#changesHeard += 1
    this.#hearing.resolve()
    this.#hearing = Promise.withResolvers<void>()
  }

  add(answer: Promise<unknown>): void {
    this.#due.add(answer)
    const answered = (): boolean => this.#due.delete(answer)
    answer.then(answered, answered)
  }

  /** Settled once a change was heard after the first `heard`, and the open screen has its answers to what it asked then. */
  async since(heard: number): Promise<void> {
    while (this.#changesHeard === heard) await this.#hearing.promise
    // Screens ask in their effects.
    await tick()
    while (this.#due.size > 0) await Promise.allSettled(this.#due)
  }
}

export const answersDue = new AnswersDue()
