import { join } from 'node:path'
import { utilityProcess, type UtilityProcess } from 'electron'
import { failed, problem, type Problem, type Result } from '../core/problems.ts'
import type { Desk, DeskByText } from '../desk/desk.ts'
import type { Checked, ToCheck } from '../desk/checking/check-process.ts'
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
  const checks = new Map<number, UtilityProcess>()
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
        case 'check':
          checks.set(
            message.id,
            check(message.asked, (found) => {
              checks.delete(message.id)
              tell({ kind: 'checked', id: message.id, ...(found && { found }) })
            }),
          )
          return
        case 'stop-check':
          checks.get(message.id)?.kill()
          return
      }
    })
  })
  void over.then(() => {
    for (const each of checks.values()) each.kill()
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

/** Begins a process that looks through a file for the desk; it ends with its answer, or without one. */
function check(asked: ToCheck, done: (found: Checked | undefined) => void): UtilityProcess {
  const child = utilityProcess.fork(join(import.meta.dirname, 'check.js'), [], { serviceName: 'Out of Clamps check' })
  let found: Checked | undefined
  child.once('message', (message: Checked) => {
    found = message
    child.kill()
  })
  child.once('exit', () => done(found))
  child.postMessage(asked)
  return child
}

const stopped = problem(
  'desk-stopped',
  'The order book stopped on an error of the app’s own. All that was entered before is kept: start the app again, and look ' +
    'whether your last entry is there.',
)

const stoppedReply = JSON.stringify(failed(stopped))
