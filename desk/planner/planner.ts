import { MessageChannel } from 'node:worker_threads'
import type { AnnouncedStart } from '../../core/planning/index.ts'
import { failed, problem, type Result } from '../../core/problems.ts'
import type { SearchNews } from './planner-worker.ts'
import type { PlanningAnswers, PlanningRequest } from './planning-request.ts'
import { type Older, type ThreadAnswer, isQuick, Thread, type ThreadOptions } from './planning-thread.ts'
import type { SearchBudget } from './search-plan.ts'

export type { SearchNews }

/** Planning off the desk's thread. */
export interface Planner {
  /**
   * Asks one of the threads. A newer request with the same `topic` replaces one that still waits for its turn: the older one
   * is answered with the problem `superseded`, if nothing else is said.
   */
  ask<Request extends PlanningRequest>(
    topic: string,
    request: Request,
    older?: Older,
  ): Promise<Result<PlanningAnswers[Request['kind']]>>
  /** Looks again for a better plan than the last one that was made or found. */
  search(budget: SearchBudget): void
  /** Stops looking: what was found is told. */
  stopSearch(): void
  close(): Promise<void>
}

export interface PlannerOptions extends ThreadOptions {
  /** When each step was planned last: where the first plan goes on from, of a book that no thread has planned yet. */
  readonly lastPlanned?: () => readonly AnnouncedStart[]
  /** The threads were ended and begun anew, without knowing any plan: the book is to be planned again. */
  readonly onBegunAnew?: () => void
}

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
    const quick = new Thread(port1, options, startAnew, options.lastPlanned?.() ?? [])
    let patient: Thread | null = null
    return { quick, patient: () => (patient ??= new Thread(port2, options, startAnew)), started: () => patient }
  }

  /** A thread that broke takes what it knew with it: the book is planned anew. */
  function startAnew(why: 'fault' | 'too-long', request: PlanningRequest | null): void {
    const broken = threads
    threads = startThreads()
    void closeThreads(broken, why === 'fault' ? stoppedOnError : stoppedWithAnother, 'end')
    // A book that cannot be planned in time would not be the next time either: it waits for the next change.
    if (request?.kind !== 'plan') options.onBegunAnew?.()
  }

  return {
    async ask(topic, request, older = 'gives-way') {
      if (!isQuick(request)) return (await threads.patient().ask(topic, request, older)) as never
      const answer = await threads.quick.ask(topic, request, older)
      if (options.search !== null && request.kind === 'plan') threads.patient()
      return answer as never
    },
    search: (budget) => threads.patient().tell({ kind: 'search', budget }),
    stopSearch: () => threads.patient().tell({ kind: 'stop' }),
    close: () => closeThreads(threads, closing, 'rest'),
  }

  async function closeThreads(
    { quick, started }: typeof threads,
    why: ThreadAnswer,
    then: 'rest' | 'end',
  ): Promise<void> {
    await Promise.all([quick.close(why, then), started()?.close(why, then)])
  }
}

const closing = failed(problem('closed', 'The app is closing.'))
const stoppedOnError = failed(
  problem('fault', 'The planner stopped on an error of its own. Dates are missing until the next change.'),
)

const stoppedWithAnother = failed(
  problem('stopped-with-another', 'This was stopped by another answer that took too long. Ask again.'),
)
