import { ok, type Problem } from '../../core/problems.ts'
import type { Reply } from '../../desk/procedure.ts'
import { type Answer, postCall, replyOf } from './post-call.ts'

/** A press as it waits on the device. */
interface Waiting {
  /** By which the desk knows it when it comes twice. */
  readonly key: string
  readonly name: string
  readonly input: unknown
  /** Milliseconds since the Unix epoch on the device's own clock. */
  readonly atMs: number
}

/** Presses that may wait: the desk can be told of them for a time ago. */
const MAY_WAIT: ReadonlySet<string> = new Set(['stepStart', 'stepPause', 'stepDone'])
const KEPT_AS = 'presses-waiting'
const TRY_AGAIN_MS = 5_000
/** As long as the desk takes one. */
const OLDEST_MS = 7 * 24 * 60 * 60 * 1000

/**
 * Presses of a phone or tablet. Each is kept on the device before it is sent and until the desk has answered it, so that none is
 * lost where the connection is away, or the answer; they go out one by one in the order in which they were pressed.
 */
class Outbox {
  waiting = $state.raw<readonly Waiting[]>(read())
  /** Why a press that had waited was not taken. */
  problems = $state.raw<readonly Problem[]>([])
  readonly #answers = new Map<string, Reply<unknown>>()
  #timer: ReturnType<typeof setTimeout> | undefined

  takes(name: string): boolean {
    return MAY_WAIT.has(name)
  }

  /** The desk's answer; where there is no connection, that the press is kept. */
  async press(name: string, input: unknown): Promise<Reply<unknown>> {
    const mine = { key: crypto.randomUUID(), name, input, atMs: Date.now() }
    this.#keep([...read(), mine])
    await this.send(mine.key)
    const answer = this.#answers.get(mine.key)
    this.#answers.delete(mine.key)
    return answer ?? ok({ said: 'Kept on this device. It goes to the desk once there is a connection.', entryId: null })
  }

  /** Sends what waits. Tabs take turns, as they share what is kept. */
  async send(awaited?: string): Promise<void> {
    clearTimeout(this.#timer)
    await navigator.locks.request(KEPT_AS, async () => {
      for (let first = read()[0]; first !== undefined; first = read()[0]) {
        const { key, name, input, atMs } = first
        const ageMs = Math.min(OLDEST_MS, Math.max(0, Date.now() - atMs))
        const answer: Answer = await postCall({ name, input, press: { key, ageMs } })
        if (answer.kind !== 'reply') break
        const { reply } = answer
        if (key === awaited) this.#answers.set(key, reply)
        else if (!reply.ok) this.problems = [...this.problems, ...reply.problems]
        this.#keep(read().filter((each) => each.key !== key))
      }
    })
    this.#keep(read())
    if (this.waiting.length > 0) this.#timer = setTimeout(() => void this.send(), TRY_AGAIN_MS)
  }

  /** Begins to send what was left from before, and goes on whenever a connection is back; returns the function that stops it. */
  follow(): () => void {
    const again = (): void => void this.send()
    addEventListener('online', again)
    again()
    return () => {
      removeEventListener('online', again)
      clearTimeout(this.#timer)
    }
  }

  #keep(waiting: readonly Waiting[]): void {
    localStorage.setItem(KEPT_AS, JSON.stringify(waiting))
    this.waiting = waiting
  }
}

function read(): readonly Waiting[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT_AS) ?? '[]')
    return Array.isArray(kept) ? (kept as Waiting[]) : []
  } catch {
    return []
  }
}

export const outbox = new Outbox()

/** One call over the network: a press goes by the outbox, everything else needs a connection. */
export const callDesk = async (name: string, input: unknown, onDevice: boolean): Promise<Reply<unknown>> =>
  onDevice && outbox.takes(name) ? outbox.press(name, input) : replyOf(await postCall({ name, input }))
