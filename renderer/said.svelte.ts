import type { Problem } from '../core/problems.ts'
import type { Reply } from '../desk/procedure.ts'
import { answersDue } from './answers-due.ts'
import { desk } from './client.ts'
import type { Moved, NewDay } from '../desk/moved.ts'

/** As long as the desk itself has anybody wait for a plan. */
const LONGEST_WAIT_MS = 10_000

/** What the last action did, which chances moved because of it, and the way back: one line that every screen shows. */
class Said {
  moved = $state.raw<Moved | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  /** Chances that moved because of it, as sentences: they come a moment later. */
  news = $state.raw<readonly string[]>([])
  /** It is kept, and the screen is still the one of before: until the desk has worked out what follows and answered the screen anew. */
  datesFollow = $state(false)
  #running = false
  #last: Promise<unknown> = Promise.resolve()
  #shown = Promise.resolve()
  /** Settled when the page is left: what still waits for its turn is sent at once then, or it would be lost with the page. */
  #leaving = Promise.withResolvers<void>()

  constructor() {
    // The sooner the better: a page that is gone has half a second at most. What asked only to save a file stays, and goes on as before.
    for (const event of ['beforeunload', 'pagehide']) {
      addEventListener(event, () => {
        this.#leaving.resolve()
        this.#leaving = Promise.withResolvers()
      })
    }
  }

  /**
   * Shows what comes of an action; true when it was done. One at a time: what is pressed or left while another runs waits for its
   * turn, so that nothing is lost and each press means what was on the screen. A button sees to it that it is not pressed twice.
   */
  after(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    const turn = Promise.race([this.#last, this.#leaving.promise]).then(() => this.#do(action))
    this.#last = turn.catch(() => undefined)
    return turn
  }

  async #do(action: () => Promise<Reply<Moved>>): Promise<boolean> {
    this.news = []
    this.#running = true
    const heard = answersDue.changesHeard
    let reply: Reply<Moved>
    try {
      reply = await action()
    } finally {
      this.#running = false
    }
    this.problems = reply.ok ? [] : reply.problems
    this.moved = reply.ok ? reply.value : null
    if (this.moved?.datesFollow === true) await this.#datesFollow(heard)
    else if (this.moved !== null && this.moved.entryId !== null)
      this.#shown = this.#screenFollows(answersDue.since(heard))
    return reply.ok
  }

  /** Settled once the screen shows what was done last. */
  onScreen(): Promise<void> {
    return this.#shown
  }

  async #datesFollow(heard: number): Promise<void> {
    this.datesFollow = true
    try {
      await this.#screenFollows(desk.caughtUp().then(({ ok }) => (ok ? answersDue.since(heard) : undefined)))
    } catch {
      // It is kept all the same, and the screen asks by itself once it can.
    } finally {
      this.datesFollow = false
    }
  }

  /** Waited for, though not for ever: the connection may be gone meanwhile. */
  #screenFollows(answered: Promise<void>): Promise<void> {
    const longest = new Promise<void>((resolve) => setTimeout(resolve, LONGEST_WAIT_MS))
    return Promise.race([answered, this.#leaving.promise, longest])
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
    if (this.moved !== null || this.#running) this.news = news
  }

  clear(): void {
    this.news = []
    this.moved = null
    this.problems = []
  }
}

export const said = new Said()
