import { join } from 'node:path'
import { utilityProcess } from 'electron'
import { failed, problem, type Problem, type Result } from '../core/problems.ts'
import type { Desk, DeskByText } from '../desk/desk.ts'
import type { DeskEvent } from '../desk/desk-event.ts'
import type { DeskElsewhereOptions, FromDesk, ToDesk } from './desk-process.ts'

/** A desk that still opens, or is open, and can be lost. */
export interface DeskElsewhere extends DeskByText, Pick<Desk, 'close'> {
  /** Whether it opened. It may be called at once: what it is asked before waits in its process. A refused one has ended. */
  readonly opened: Promise<Result<null>>
  /** `broke` is called once when its process ends without having been closed, and without having refused to open. */
  onBroke(broke: (why: Problem) => void): void
}

/**
 * Opens the desk in a process of its own, so that reading the book and deriving screens never hold up the window. When that
 * process breaks, every call is answered with the problem `desk-stopped`: what was committed before is in the file.
 */
export function openDeskElsewhere(options: DeskElsewhereOptions): DeskElsewhere {
  const child = utilityProcess.fork(join(import.meta.dirname, 'desk.js'), [], { serviceName: 'Out of Clamps desk' })
  const tell = (message: ToDesk): void => child.postMessage(message)
  const waiting = new Map<number, (reply: string) => void>()
  const listeners = new Set<(event: DeskEvent) => void>()
  const over = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  let lastId = 0
  let state: 'open' | 'closing' | 'over' = 'open'
  let broke: (why: Problem) => void = () => undefined

  const opened = new Promise<Result<null>>((resolve) => {
    child.on('message', (message: FromDesk) => {
      switch (message.kind) {
        case 'opened':
          if (!message.opened.ok) {
            state = 'closing'
            child.kill()
          }
          return resolve(message.opened)
        case 'reply':
          waiting.get(message.id)?.(message.reply)
          waiting.delete(message.id)
          return
        case 'event':
          for (const listener of listeners) listener(message.event)
          return
      }
    })
  })
  void over.then(() => {
    const wasOpen = state === 'open'
    state = 'over'
    for (const settle of waiting.values()) settle(stoppedReply)
    waiting.clear()
    if (!wasOpen) return
    // Who shows something asks again, and learns it.
    for (const listener of listeners) listener({ kind: 'changed' })
    broke(stopped)
  })
  tell({ kind: 'open', options })

  return {
    opened,
    call(name, input) {
      if (state !== 'open') return Promise.resolve(stoppedReply)
      return new Promise((resolve) => {
        waiting.set(++lastId, resolve)
        tell({ kind: 'call', id: lastId, name, input })
      })
    },
    onEvent(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onBroke(listener) {
      broke = listener
    },
    async close() {
      listeners.clear()
      if (state === 'open') {
        state = 'closing'
        tell({ kind: 'close' })
      }
      await over
    },
  }
}

const stopped = problem(
  'desk-stopped',
  'The order book stopped on an error of the app’s own. All that was entered before is kept: start the app again, and look ' +
    'whether your last entry is there.',
)

const stoppedReply = JSON.stringify(failed(stopped))
