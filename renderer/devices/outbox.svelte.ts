import { failed, ok, problem, type Problem } from '../../core/problems.ts'
import type { Reply } from '../../desk/procedure.ts'
import { isForLater, isPressedAlready, type KeptPress, mayBeKept, pressInWords } from './kept-presses.ts'
import { type Answer, postCall, replyOf } from './post-call.ts'

const KEPT_AS = 'presses-waiting'
const TRY_AGAIN_MS = 5_000
/** A desk that answers and does not write down is asked more and more seldom, down to this. */
const SELDOM_MS = 5 * 60_000
/** As long as the desk takes one. */
const OLDEST_MS = 7 * 24 * 60 * 60 * 1000

/**
 * Why presses wait: nobody answers, the device is shut out, it sent more at once than the desk takes, the desk cannot write anything
 * down, or breaks at the first of them.
 */
type WhyWaiting = 'silent' | 'locked' | 'too-many' | 'not-now' | 'fault'

/**
 * Presses of a phone or tablet. Each is kept on the device before it is sent and until the desk has taken or refused it, so that none
 * is lost where the connection is away, or the answer, or the desk's book is shut; they go out one by one in the order in which they
 * were pressed.
 */
class Outbox {
  /** What the desk could not be told yet. A press that is on its way for the first time is not among them. */
  waiting = $state.raw<readonly KeptPress[]>(read())
  why = $state<WhyWaiting>('silent')
  /** Why presses that had waited were not taken, each with its step. */
  problems = $state.raw<readonly Problem[]>([])
  /** Goes up whenever a press that waited comes to nothing. */
  dropped = $state(0)
  /** How often in a row the desk answered and did not take the first press that waits. */
  tries = $state(0)
  /** When it is sent again by itself, on the device's own clock. */
  nextTryMs = $state(0)
  readonly #answers = new Map<string, Reply<unknown>>()
  readonly #steps = new Map<string, string>()
  #timer: ReturnType<typeof setTimeout> | undefined
  #triedMs = 0

  /** How a step is spoken of, should a press at it have to wait. */
  name(stepId: string, step: string): void {
    this.#steps.set(stepId, step)
  }

  /** The desk's answer; where there is none, that the press is kept. */
  async press(name: KeptPress['name'], input: unknown): Promise<Reply<unknown>> {
    const kept = read()
    if (isPressedAlready({ name, input }, kept)) return this.#keptReply()
    const step = this.#steps.get((input as { readonly stepId: string }).stepId)
    const mine: KeptPress = { key: crypto.randomUUID(), name, input, atMs: Date.now(), step }
    write([...kept, mine])
    if (kept.length > 0) {
      // Behind others that wait its turn may be long in coming.
      this.waiting = read()
      void this.send()
      return this.#keptReply()
    }
    await this.send(mine.key)
    const answer = this.#answers.get(mine.key)
    this.#answers.delete(mine.key)
    return answer ?? this.#keptReply()
  }

  /** Sends what waits. Tabs take turns, as they share what is kept. */
  async send(awaited?: string): Promise<void> {
    clearTimeout(this.#timer)
    await navigator.locks.request(KEPT_AS, async () => {
      for (let first = read()[0]; first !== undefined; first = read()[0]) {
        const { key, name, input, atMs } = first
        const ageMs = Math.min(OLDEST_MS, Math.max(0, Date.now() - atMs))
        const answer: Answer = await postCall({ name, input, press: { key, ageMs } })
        if (answer.kind !== 'reply' || isForLater(answer.reply)) {
          this.why = whyNotTaken(answer)
          this.tries = this.why === 'silent' || this.why === 'too-many' ? 0 : this.tries + 1
          break
        }
        this.tries = 0
        this.#take(first, answer.reply, key === awaited)
      }
    })
    this.waiting = read()
    clearTimeout(this.#timer)
    this.#triedMs = Date.now()
    if (this.waiting.length > 0) this.#sendIn(Math.min(SELDOM_MS, TRY_AGAIN_MS * 2 ** Math.max(0, this.tries - 1)))
  }

  /** The desk was heard: what it was not reached with, or could not write down, it may take now. What it breaks at waits its time. */
  hearDesk(): void {
    if (this.waiting.length === 0 || this.why === 'fault') return
    this.#sendIn(this.why === 'silent' ? 0 : Math.max(0, this.#triedMs + TRY_AGAIN_MS - Date.now()))
  }

  #sendIn(ms: number): void {
    clearTimeout(this.#timer)
    this.nextTryMs = Date.now() + ms
    this.#timer = setTimeout(() => void this.send(), ms)
  }

  /** A slip, or what the desk never manages to write down; not while it is on its way. */
  async takeBack({ key }: KeptPress): Promise<void> {
    await navigator.locks.request(KEPT_AS, () => write(read().filter((press) => press.key !== key)))
    this.waiting = read()
    this.dropped += 1
    this.tries = 0
    if (this.waiting.length > 0) void this.send()
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

  /** The desk has taken or refused it. */
  #take(press: KeptPress, reply: Reply<unknown>, isAwaited: boolean): void {
    if (isAwaited) this.#answers.set(press.key, reply)
    else if (!reply.ok) {
      this.problems = [
        ...this.problems,
        ...reply.problems.map(({ code, message }) => problem(code, `${pressInWords(press)}. ${message}`)),
      ]
      this.dropped += 1
    }
    const left = read().filter(({ key }) => key !== press.key)
    write(left)
    if (this.waiting.some(({ key }) => key === press.key)) this.waiting = left
  }

  #keptReply(): Reply<unknown> {
    return this.why === 'locked' ? failed(keptUnpaired) : ok({ said: KEPT[this.why], entryId: null })
  }
}

function whyNotTaken(answer: Answer): WhyWaiting {
  if (answer.kind === 'broken') return 'fault'
  if (answer.kind !== 'reply') return answer.kind
  const { reply } = answer
  return !reply.ok && reply.problems.some(({ code }) => code === 'fault') ? 'fault' : 'not-now'
}

const KEPT = {
  silent: 'Kept on this device. It goes to the desk once there is a connection.',
  'too-many': 'Kept on this device. Too much was sent at once: it goes to the desk in a few seconds.',
  'not-now': 'Kept on this device. The desk can’t write it down now: look at its computer.',
  fault: 'Kept on this device. Something goes wrong at the desk with it. It is sent again, more and more seldom.',
} as const

const keptUnpaired = problem(
  'not-paired',
  'This device is not paired any more, and the desk was not told. The press is kept here. Show a code at the desk: Almanac, Phones and tablets.',
)

function read(): readonly KeptPress[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT_AS) ?? '[]')
    return Array.isArray(kept) ? (kept as KeptPress[]) : []
  } catch {
    return []
  }
}

const write = (kept: readonly KeptPress[]): void => localStorage.setItem(KEPT_AS, JSON.stringify(kept))

export const outbox = new Outbox()

/** One call over the network: a press goes by the outbox, everything else needs a connection. */
export const callDesk = async (name: string, input: unknown, onDevice: boolean): Promise<Reply<unknown>> =>
  onDevice && mayBeKept(name) ? outbox.press(name, input) : replyOf(await postInTime({ name, input }))

/** Milliseconds until a call that came too soon after many others is sent again; after the last it is told. */
const TOO_SOON_MS = [1_000, 2_000, 4_000]

/** What was too much at once has not been looked at: it is sent again. */
async function postInTime(call: Parameters<typeof postCall>[0]): Promise<Answer> {
  for (const pauseMs of TOO_SOON_MS) {
    const answer = await postCall(call)
    if (answer.kind !== 'too-many') return answer
    await new Promise((resolve) => setTimeout(resolve, pauseMs))
  }
  return postCall(call)
}
