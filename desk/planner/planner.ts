import { MessageChannel, Worker, type MessagePort } from 'node:worker_threads'
import { failed, problem, type Result } from '../../core/problems.ts'
import type { FromPlanner, SearchNews, ToPlanner } from './planner-worker.ts'
import type { PlanningAnswers, PlanningRequest } from './planning-request.ts'
import type { SearchBudget } from './search-plan.ts'

export type { SearchNews }

/** Planning off the desk's thread. */
export interface Planner {
  /**
   * Asks one of the threads. A newer request with the same `topic` replaces one that still waits for its turn: the older one
   * is answered with the problem `superseded`.
   */
  ask<Request extends PlanningRequest>(
    topic: string,
    request: Request,
  ): Promise<Result<PlanningAnswers[Request['kind']]>>
  /** Looks again for a better plan than the last one that was made or found. */
  search(budget: SearchBudget): void
  /** Stops looking: what was found is told. */
  stopSearch(): void
  close(): Promise<void>
}

export interface PlannerOptions {
  /** How long a better plan is looked for after each planning; null: only when asked to. */
  readonly search: SearchBudget | null
  readonly onNews: (news: SearchNews) => void
  /** The threads were ended and begun anew, without knowing any plan: the book is to be planned again. */
  readonly onBegunAnew?: () => void
  /** How long one answer may take, in milliseconds, before its thread is ended. */
  readonly patienceMs?: (request: PlanningRequest) => number
}

/**
 * Many times what the largest book that can be typed in takes: only what would never end, or would be of no use any more when
 * it comes, is cut off.
 */
const usualPatienceMs = (request: PlanningRequest): number => (isQuick(request) ? 60_000 : 240_000)

/**
 * Starts two threads that work alike and tell each other what was planned. One answers what somebody waits for at this moment:
 * a plan after a press, a date while an order is typed. The other one does what takes its time (better plans, odds, what
 * more hours would buy), so that no keystroke ever waits for it.
 */
export function startPlanner(options: PlannerOptions): Planner {
  let threads = startThreads()

  /** The patient one is started when it is first needed: the first plan does not wait for it. */
  function startThreads() {
    const { port1, port2 } = new MessageChannel()
    const quick = new Thread(port1, options, startAnew)
    let patient: Thread | null = null
    return { quick, patient: () => (patient ??= new Thread(port2, options, startAnew)), started: () => patient }
  }

  /** A thread that broke takes what it knew with it: the book is planned anew. */
  function startAnew(why: 'fault' | 'too-long', request: PlanningRequest | null): void {
    const broken = threads
    threads = startThreads()
    void closeThreads(broken, why === 'fault' ? stoppedOnError : stoppedWithAnother)
    // A book that cannot be planned in time would not be the next time either: it waits for the next change.
    if (request?.kind !== 'plan') options.onBegunAnew?.()
  }

  return {
    async ask(topic, request) {
      if (!isQuick(request)) return (await threads.patient().ask(topic, request)) as never
      const answer = await threads.quick.ask(topic, request)
      if (options.search !== null && request.kind === 'plan') threads.patient()
      return answer as never
    },
    search: (budget) => threads.patient().tell({ kind: 'search', budget }),
    stopSearch: () => threads.patient().tell({ kind: 'stop' }),
    close: () => closeThreads(threads, closing),
  }

  async function closeThreads({ quick, started }: typeof threads, why: Answer): Promise<void> {
    await Promise.all([quick.close(why), started()?.close(why)])
  }
}

const isQuick = (request: PlanningRequest): boolean =>
  request.kind === 'plan' ||
  request.kind === 'why' ||
  ((request.kind === 'quote' || request.kind === 'changed-book') && request.odds === null)

type Answer = Result<PlanningAnswers[PlanningRequest['kind']]>

interface Waiting {
  readonly topic: string
  readonly request: PlanningRequest
  readonly settle: (answer: Answer) => void
}

/** One thread and what waits for it: a question at a time, so that a newer one can take the place of one that waits. */
class Thread {
  readonly #search: SearchBudget | null
  readonly #queue: Waiting[] = []
  #current: Waiting | null = null
  #closed: Answer | null = null
  #timer: NodeJS.Timeout | undefined
  readonly #worker: Worker
  readonly #patienceMs: (request: PlanningRequest) => number
  readonly #onEnd: OnEnd

  constructor(other: MessagePort, { search, onNews, patienceMs = usualPatienceMs }: PlannerOptions, onEnd: OnEnd) {
    this.#search = search
    this.#patienceMs = patienceMs
    this.#onEnd = onEnd
    this.#worker = new Worker(workerFile(), { workerData: other, transferList: [other] })
    this.#worker.unref()
    this.#worker.on('message', (message: FromPlanner) => {
      if (this.#closed !== null) return
      if (message.kind === 'answer') this.#finish(message.answer)
      else onNews(message.news)
    })
    this.#worker.on('error', (fault) => {
      console.error('Fault in the planner:', fault)
      if (this.#closed === null) onEnd('fault', this.#current?.request ?? null)
    })
  }

  ask(topic: string, request: PlanningRequest): Promise<Answer> {
    if (this.#closed !== null) return Promise.resolve(this.#closed)
    const older = this.#queue.findIndex((waiting) => waiting.topic === topic)
    if (older >= 0) this.#queue.splice(older, 1)[0]?.settle(superseded)
    return new Promise((settle) => {
      this.#queue.push({ topic, request, settle })
      this.#next()
    })
  }

  tell(message: ToPlanner): void {
    if (this.#closed === null) this.#worker.postMessage(message)
  }

  /** @param why what still waits is answered with */
  async close(why: Answer): Promise<void> {
    this.#closed = why
    clearTimeout(this.#timer)
    for (const waiting of this.#queue.splice(0)) waiting.settle(why)
    this.#current?.settle(why)
    await this.#worker.terminate()
  }

  #finish(answer: Answer): void {
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

const superseded = failed(problem('superseded', 'A newer question has taken the place of this one.'))
const closing = failed(problem('closed', 'The app is closing.'))
const stoppedOnError = failed(
  problem('fault', 'The planner stopped on an error of its own. Dates are missing until the next change.'),
)

const stoppedWithAnother = failed(
  problem('stopped-with-another', 'This was stopped by another answer that took too long. Ask again.'),
)
const tookTooLong = failed(
  problem('took-too-long', 'This takes too long to work out: use fewer pieces or parts, then try again.'),
)

// Run from the sources the worker is the file beside this one; bundled it is an entry of its own beside the main bundle.
const workerFile = (): URL =>
  new URL(import.meta.url.endsWith('.ts') ? './planner-worker.ts' : './planner.js', import.meta.url)
