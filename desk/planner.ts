import { Worker } from 'node:worker_threads'
import { failed, problem, type Result } from '../core/problems.ts'
import type { PlanningAnswers, PlanningRequest } from './planning-request.ts'

/** Planning off the main thread. */
export interface Planner {
  /**
   * Asks the worker. A newer request with the same `topic` replaces one that still waits for its turn: the older one is
   * answered with the problem `superseded`.
   */
  ask<Request extends PlanningRequest>(
    topic: string,
    request: Request,
  ): Promise<Result<PlanningAnswers[Request['kind']]>>
  close(): Promise<void>
}

type Answer = Result<PlanningAnswers[PlanningRequest['kind']]>

interface Waiting {
  readonly topic: string
  readonly request: PlanningRequest
  readonly settle: (answer: Answer) => void
}

/** Starts one worker thread; a fault in it is answered as a problem and a new worker takes its place. */
export function startPlanner(): Planner {
  const queue: Waiting[] = []
  let current: Waiting | null = null
  let lastId = 0
  let closed = false
  let worker = startWorker()

  function startWorker(): Worker {
    const started = new Worker(workerFile())
    started.unref()
    started.on('message', ({ id, answer }: { readonly id: number; readonly answer: Answer }) => {
      if (id === lastId) finish(answer)
    })
    started.on('error', (fault) => {
      console.error('Fault in the planner:', fault)
      if (!closed) worker = startWorker()
      finish(
        failed(
          problem('fault', 'The planner stopped on an error of its own. Dates are missing until the next change.'),
        ),
      )
    })
    return started
  }

  function finish(answer: Answer): void {
    const finished = current
    current = null
    finished?.settle(answer)
    next()
  }

  function next(): void {
    if (current !== null || closed) return
    current = queue.shift() ?? null
    if (current !== null) worker.postMessage({ id: ++lastId, request: current.request })
  }

  return {
    ask(topic, request) {
      if (closed) return Promise.resolve(failed(problem('closed', 'The app is closing.')))
      const older = queue.findIndex((waiting) => waiting.topic === topic)
      if (older >= 0) {
        queue
          .splice(older, 1)[0]
          ?.settle(failed(problem('superseded', 'A newer question has taken the place of this one.')))
      }
      return new Promise((resolve) => {
        queue.push({ topic, request, settle: resolve as (answer: Answer) => void })
        next()
      })
    },
    async close() {
      closed = true
      for (const waiting of queue.splice(0)) waiting.settle(failed(problem('closed', 'The app is closing.')))
      current?.settle(failed(problem('closed', 'The app is closing.')))
      await worker.terminate()
    },
  }
}

// Run from the sources the worker is the file beside this one; bundled it is an entry of its own beside the main bundle.
const workerFile = (): URL =>
  new URL(import.meta.url.endsWith('.ts') ? './planner-worker.ts' : './planner.js', import.meta.url)
