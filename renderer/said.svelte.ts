import type { Problem } from '../core/problems.ts'
import type { Reply } from '../desk/procedure.ts'
import { desk } from './client.ts'
import type { Moved, NewDay } from '../desk/moved.ts'

/** What the last action did, which chances moved because of it, and the way back: one line that every screen shows. */
class Said {
  moved = $state.raw<Moved | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  /** Chances that moved because of it, as sentences: they come a moment later. */
  news = $state.raw<readonly string[]>([])
  busy = $state(false)
  #running: Promise<unknown> | null = null

  /** Shows what comes of an action; true when it was done. One at a time: a second press while one runs does nothing. */
  async after(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    if (this.busy) return false
    this.busy = true
    this.news = []
    const asked = action()
    this.#running = asked
    let reply: Reply<Moved>
    try {
      reply = await asked
    } finally {
      this.#running = null
      this.busy = false
    }
    this.problems = reply.ok ? [] : reply.problems
    this.moved = reply.ok ? reply.value : null
    return reply.ok
  }

  #last: Promise<unknown> = Promise.resolve()

  /** The same for what is saved when a field is left: nobody waits for one field to be kept before going to the next. */
  inTurn(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    const turn = this.#last.then(() => this.#whenFree(action))
    this.#last = turn.catch(() => undefined)
    return turn
  }

  async #whenFree(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    while (this.#running !== null) await this.#running.catch(() => undefined)
    return this.after(action)
  }

  #saidOnLeaving = false

  /** Shows on the next screen what was done on the one that is being left. */
  sayOnLeaving(moved: Moved): void {
    this.news = []
    this.problems = []
    this.moved = moved
    this.#saidOnLeaving = true
  }

  /** Another screen opens: the line goes, unless it was meant for that screen. */
  screenOpens(): void {
    if (!this.#saidOnLeaving) this.clear()
    this.#saidOnLeaving = false
  }

  async undo(): Promise<void> {
    const entryId = this.moved?.entryId
    if (typeof entryId === 'number') await this.after(() => desk.undo({ entryId }))
  }

  /** The customer is told of another day: a promise of its own beside the one before. */
  async promiseNewDay({ commissionId: id, day, why }: NewDay): Promise<void> {
    await this.after(() =>
      desk.commissionChange({ id, changes: { promisedFor: day, promiseWantedBy: 'maker', promiseWhy: why } }),
    )
  }

  /** What the odds tell of the last action, once they are worked out. */
  hear(news: readonly string[]): void {
    if (this.moved !== null || this.busy) this.news = news
  }

  clear(): void {
    this.news = []
    this.moved = null
    this.problems = []
  }
}

export const said = new Said()
