import { join } from 'node:path'
import { doorOn } from './at-the-bench/door.ts'
import { openDesk } from '../desk/open-desk.ts'
import type { Checked, ToCheck } from '../desk/checking/check-process.ts'
import type { Desk, DeskOptions } from '../desk/desk.ts'
import type { DeskEvent } from '../desk/desk-event.ts'
import type { Reply } from '../desk/procedure.ts'
import { startClock } from './start-options.ts'

/** What the desk in its process is opened with: all that can be told by message. */
export interface DeskElsewhereOptions extends Pick<DeskOptions, 'dataFolder' | 'demo' | 'where'> {
  /** See `testClockStart`. */
  readonly testStartMs: number | null
}

/** What the shell tells the desk: first that it is to open. Calls that come before it has wait for it. */
export type ToDesk =
  | { readonly kind: 'open'; readonly options: DeskElsewhereOptions }
  | { readonly kind: 'call'; readonly id: number; readonly name: string; readonly input: unknown }
  | { readonly kind: 'close' }
  /** What a process that was asked for found; absent: it ended without a word. */
  | { readonly kind: 'checked'; readonly id: number; readonly found?: Checked }

export type FromDesk =
  | { readonly kind: 'opened'; readonly opened: Reply<null> }
  /** The reply as JSON, see `DeskByText`. */
  | { readonly kind: 'reply'; readonly id: number; readonly reply: string }
  | { readonly kind: 'event'; readonly event: DeskEvent }
  /** Only the shell can begin another process: one is to look through a file, or to stop that. */
  | { readonly kind: 'check'; readonly id: number; readonly asked: ToCheck }
  | { readonly kind: 'stop-check'; readonly id: number }

// The order book is for this user alone.
process.umask(0o077)

// Calls in, replies and events out; the desk itself knows nothing of processes.
const shell = process.parentPort
const tell = (message: FromDesk): void => shell.postMessage(message)
const openDoor = doorOn(join(import.meta.dirname, '../renderer'))
let opening: Promise<Desk | null> = Promise.resolve(null)
let checks = 0
const checking = new Map<number, (found: Checked | undefined) => void>()

shell.on('message', ({ data }) => {
  hear(data as ToDesk).catch((fault: unknown) => {
    console.error('Fault in the desk:', fault)
    process.exit(1)
  })
})

// Ctrl+C in a terminal reaches every process of the app: the shell is the one to end it, by "close".
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => undefined)

async function hear(message: ToDesk): Promise<void> {
  switch (message.kind) {
    case 'open':
      opening = open(message.options)
      await opening
      return
    case 'call': {
      const { id, name, input } = message
      const desk = await opening
      if (desk !== null) tell({ kind: 'reply', id, reply: JSON.stringify(await desk.call(name, input)) })
      return
    }
    case 'checked':
      checking.get(message.id)?.(message.found)
      checking.delete(message.id)
      return
    case 'close':
      await (await opening)?.close()
      process.exit(0)
  }
}

const examineElsewhere: NonNullable<DeskOptions['examineElsewhere']> = (path, known, depth, signal) =>
  new Promise((resolve, reject) => {
    const id = ++checks
    const stop = (): void => tell({ kind: 'stop-check', id })
    checking.set(id, (found) => {
      signal.removeEventListener('abort', stop)
      if (signal.aborted) resolve(null)
      else if (found === undefined) reject(new Error('The process ended without an answer'))
      else resolve(found)
    })
    signal.addEventListener('abort', stop)
    tell({ kind: 'check', id, asked: { path, known, depth } })
  })

async function open({ testStartMs, ...options }: DeskElsewhereOptions): Promise<Desk | null> {
  const opened = await openDesk({ ...options, openDoor, examineElsewhere, ...startClock(testStartMs) })
  if (!opened.ok) {
    tell({ kind: 'opened', opened })
    return null
  }
  opened.value.onEvent((event) => tell({ kind: 'event', event }))
  tell({ kind: 'opened', opened: { ok: true, value: null } })
  return opened.value
}
