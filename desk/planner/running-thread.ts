import { type Transferable, Worker } from 'node:worker_threads'
import type { FromPlanner, SearchNews, ToPlanner } from './planner-worker.ts'

/** Who hears what a thread says. */
interface Listener {
  readonly answered: (answer: Extract<FromPlanner, { kind: 'answer' }>['answer']) => void
  readonly onNews: (news: SearchNews) => void
  readonly broke: (fault: unknown) => void
}

/** A thread of the operating system that runs the planner, for one planner after the other. */
export class RunningThread {
  readonly #worker = new Worker(workerFile())
  #listener: Listener | null = null
  #asked = 0
  #ended = false

  constructor() {
    this.#worker.on('message', (message: FromPlanner) => {
      if (message.kind === 'answer') {
        this.#asked -= 1
        // An answer may still arrive while the thread is being ended, and its end is waited for.
        if (this.#asked === 0 && !this.#ended) this.#worker.unref()
        this.#listener?.answered(message.answer)
      } else this.#listener?.onNews(message.news)
    })
    this.#worker.on('error', (fault) => {
      this.#ended = true
      this.#listener?.broke(fault)
    })
    // Listening keeps the program alive; only a question that somebody waits for shall.
    this.#worker.unref()
  }

  /** Free for another planner: alive, and nothing is being worked out that nobody waits for any more. */
  get isFree(): boolean {
    return !this.#ended && this.#asked === 0
  }

  /** @param listener who hears from now on; null: nobody */
  use(listener: Listener | null): void {
    this.#listener = listener
    if (listener === null) this.#worker.unref()
  }

  post(message: ToPlanner, transfer: readonly Transferable[] = []): void {
    if (message.kind === 'ask') {
      this.#asked += 1
      this.#worker.ref()
    }
    this.#worker.postMessage(message, transfer)
  }

  async end(): Promise<void> {
    this.#ended = true
    this.#listener = null
    await this.#worker.terminate()
  }
}

/**
 * Threads without a planner. A thread takes a quarter of a second to start and is several times as fast once it is warm, and a
 * shop is closed and opened again whenever a backup is opened.
 */
const resting: RunningThread[] = []

/** As many as one planner has. */
const MOST_RESTING = 2

/** Puts a thread by for the next planner, whatever it still works on. */
export async function rest(thread: RunningThread): Promise<void> {
  thread.use(null)
  thread.post({ kind: 'forget' })
  resting.push(thread)
  const over = resting.length > MOST_RESTING ? resting.shift() : undefined
  await over?.end()
}

/** A thread that is free; null: there is none, and whichever still works for nobody is left alone. */
export function restedThread(): RunningThread | null {
  const at = resting.findLastIndex(({ isFree }) => isFree)
  return at < 0 ? null : (resting.splice(at, 1)[0] ?? null)
}

// Run from the sources the worker is the file beside this one; bundled it is an entry of its own beside the main bundle.
const workerFile = (): URL =>
  new URL(import.meta.url.endsWith('.ts') ? './planner-worker.ts' : './planner.js', import.meta.url)
