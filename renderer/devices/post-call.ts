import { failed, problem, type Problem } from '../../core/problems.ts'
import type { Reply } from '../../desk/procedure.ts'

/** A page over TLS is on a paired phone or tablet: the window has a scheme of its own, browser mode has none. */
export const isOnDevice = location.protocol === 'https:'

/** Why a call brought no reply: no key, more at once than the desk takes, something broke before it could answer, or nobody answers. */
type NoReply = 'locked' | 'too-many' | 'broken' | 'silent'

export type Answer = { readonly kind: 'reply'; readonly reply: Reply<unknown> } | { readonly kind: NoReply }

/** In characters. A browser lets 64 KiB outlive their page (Fetch standard, 4.6), which non-Latin letters fill three times as fast. */
const LONGEST_KEPT_ALIVE = 16_000

/** After so many milliseconds a press is taken to have had no answer: it is kept, and nobody stands waiting with it. */
const PRESS_MS = 10_000

const NO_REPLY: ReadonlyMap<number, NoReply> = new Map([
  [401, 'locked'],
  [403, 'locked'],
  [429, 'too-many'],
])

/** Posts one call to the server that the page came from. */
export async function postCall(call: {
  readonly name: string
  readonly input: unknown
  readonly press?: { readonly key: string; readonly ageMs: number }
}): Promise<Answer> {
  const body = JSON.stringify(call)
  try {
    const response = await fetch('/call', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body,
      // A page that is left at once takes with it what it has not sent to the end.
      keepalive: body.length <= LONGEST_KEPT_ALIVE,
      ...(call.press === undefined ? {} : { signal: AbortSignal.timeout(PRESS_MS) }),
    })
    if (response.ok) return { kind: 'reply', reply: (await response.json()) as Reply<unknown> }
    return { kind: NO_REPLY.get(response.status) ?? 'broken' }
  } catch {
    return { kind: 'silent' }
  }
}

/** The answer as the pages show it. */
export function replyOf(answer: Answer): Reply<unknown> {
  if (answer.kind === 'reply') return answer.reply
  return failed((isOnDevice ? ON_DEVICE : AT_DESK)[answer.kind])
}

/** Whether the desk could not be heard, for whatever reason but a lost key: what is shown of it stays. */
export const isOutOfReach = ([first]: readonly Problem[]): boolean =>
  first !== undefined && ['no-answer', 'too-many', 'desk-broke'].includes(first.code)

const noAnswer = problem(
  'no-answer',
  'The app does not answer: it was closed, or the computer was asleep. Start it again and open the address it prints.',
)

const noKey = problem(
  'no-key',
  'This address has lost its key, which happens when the app was started anew. Open the address that the app printed.',
)

const noConnection = problem(
  'no-answer',
  `No connection to the desk at ${location.host}. See that its computer is on and this device is on the same network. If the desk’s address has changed, show a new code there: Almanac, Phones and tablets.`,
)

const notPaired = problem(
  'not-paired',
  'This device is not paired any more. Show a code at the desk: Almanac, Phones and tablets.',
)

const tooMany = problem('too-many', 'Too much was asked of the desk at once. Wait a few seconds, then try again.')

const deskBroke = problem('desk-broke', 'Something went wrong at the desk. Try again; if it goes on, restart the app.')

const ON_DEVICE = { silent: noConnection, locked: notPaired, 'too-many': tooMany, broken: deskBroke } as const
const AT_DESK = { silent: noAnswer, locked: noKey, 'too-many': tooMany, broken: deskBroke } as const
