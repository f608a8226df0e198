import type { MessagePort } from 'node:worker_threads'
import type { AnnouncedStart } from '../../core/planning/index.ts'
import { failed, problem, superseded, type Result } from '../../core/problems.ts'
import type { SearchNews, ToPlanner } from './planner-worker.ts'
import type { PlanningAnswers, PlanningRequest } from './planning-request.ts'
import { rest, restedThread, RunningThread } from './running-thread.ts'
import type { SearchBudget } from './search-plan.ts'

export interface ThreadOptions {
  /** How long a better plan is looked for after each planning; null: only when asked to. */
  readonly search: SearchBudget | null
  readonly onNews: (news: SearchNews) => void
  /** How long one answer may take, in milliseconds, before its thread is ended. */
  readonly patienceMs?: (request: PlanningRequest) => number
}

/**
 * Many times what the largest book that can be typed in takes: only what would never end, or would be of no use any more when
 * it comes, is cut off.
 */
const usualPatienceMs = (request: PlanningRequest): number => (isQuick(request) ? 60_000 : 240_000)

/** Whether somebody waits for the answer at this moment. */
export const isQuick = (request: PlanningRequest): boolean =>
  request.kind === 'plan' ||
  request.kind === 'why' ||
  ((request.kind === 'quote' || request.kind === 'changed-book') && request.odds === null)

/**
 * What becomes of an older question of the same topic that still waits when a newer one takes its place: it is answered with the
 * problem `superseded`, or, where both ask the same, with the newer one's answer.
 */
export type Older = 'gives-way' | 'has-this-answer'

export type ThreadAnswer = Result<PlanningAnswers[PlanningRequest['kind']]>

interface Waiting {
  readonly topic: string
  readonly request: PlanningRequest
  readonly settle: (answer: ThreadAnswer) => void
}

/** One thread and what waits for it: a question at a time, so that a newer one can take the place of one that waits. */
export class Thread {
  readonly #search: SearchBudget | null
  readonly #queue: Waiting[] = []
  #current: Waiting | null = null
  #closed: ThreadAnswer | null = null
  #timer: NodeJS.Timeout | undefined
  readonly #running: RunningThread
  readonly #patienceMs: (request: PlanningRequest) => number
  readonly #onEnd: OnEnd

  /** @param lastPlanned when each step was planned last, by whoever had the book before */
  constructor(
    other: MessagePort,
    { search, onNews, patienceMs = usualPatienceMs }: ThreadOptions,
    onEnd: OnEnd,
    lastPlanned: readonly AnnouncedStart[] = [],
  ) {
    this.#search = search
    this.#patienceMs = patienceMs
    this.#onEnd = onEnd
    this.#running = restedThread() ?? new RunningThread()
    this.#running.use({
      answered: (answer) => this.#finish(answer),
      onNews,
      broke: (fault) => {
        console.error('Fault in the planner:', fault)
        onEnd('fault', this.#current?.request ?? null)
      },
    })
    this.#running.post({ kind: 'begin', other, lastPlanned }, [other])
  }

  ask(topic: string, request: PlanningRequest, older: Older): Promise<ThreadAnswer> {
    if (this.#closed !== null) return Promise.resolve(this.#closed)
    const at = this.#queue.findIndex((waiting) => waiting.topic === topic)
    const replaced = at < 0 ? undefined : this.#queue.splice(at, 1)[0]
    if (older === 'gives-way') replaced?.settle(superseded)
    return new Promise((answered) => {
      const settle = (answer: ThreadAnswer): void => {
        if (older === 'has-this-answer') replaced?.settle(answer)
        answered(answer)
      }
      this.#queue.push({ topic, request, settle })
      this.#next()
    })
  }

  tell(message: ToPlanner): void {
    if (this.#closed === null) this.#running.post(message)
  }

  /** @param why what still waits is answered with; 'rest': another planner may have the thread later */
  async close(why: ThreadAnswer, then: 'rest' | 'end'): Promise<void> {
    this.#closed = why
    clearTimeout(this.#timer)
    for (const waiting of this.#queue.splice(0)) waiting.settle(why)
    this.#current?.settle(why)
    if (then === 'rest') await rest(this.#running)
    else await this.#running.end()
  }

  #finish(answer: ThreadAnswer): void {
    clearTimeout(this.#timer)
    const finished = this.#current
    this.#current = null
    finished?.settle(answer)
    this.#next()
  }

  #next(): void {
    if (this.#current !== null || this.#closed !== null) return
    this.#current = this.#queue.shift() ?? null
    if (this.#current !== null) {
      const { request } = this.#current
      this.tell({ kind: 'ask', id: ++lastId, request, search: this.#search })
      const patienceMs = this.#patienceMs(request)
      if (patienceMs < Infinity) this.#timer = setTimeout(() => this.#giveUp(), patienceMs)
    }
  }

  /** Nothing stops a thread that computes but its end. */
  #giveUp(): void {
    const stuck = this.#current
    this.#current = null
    stuck?.settle(tookTooLong)
    this.#onEnd('too-long', stuck?.request ?? null)
  }
}

type OnEnd = (why: 'fault' | 'too-long', request: PlanningRequest | null) => void

let lastId = 0

const tookTooLong = failed(
  problem('took-too-long', 'This takes too long to work out: use fewer pieces or parts, then try again.'),
)
