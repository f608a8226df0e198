import type { Desk, DeskByText } from '../desk/desk.ts'
import type { DeskEvent } from '../desk/desk-event.ts'
import type { Client, Reply } from '../desk/procedure.ts'
import type { Procedures } from '../desk/procedures.ts'
import { callDesk } from './devices/outbox.svelte.ts'
import { isOnDevice } from './devices/post-call.ts'

/** The way to the desk: what the window's preload script gives the page, or the same over HTTP in browser mode. */
type Transport = Pick<Desk, 'call' | 'onEvent'>

declare global {
  interface Window {
    readonly outOfClamps?: DeskByText
  }
}

const transport: Transport = window.outOfClamps === undefined ? overHttp() : overBridge(window.outOfClamps)

/** The desk as the pages see it: `await desk.shopState()`. */
export const desk: Client<Procedures> = clientOver<Procedures>(transport.call)

/** Tells of changes and notices; returns the function that stops it. */
export const onDeskEvent = (listener: (event: DeskEvent) => void): (() => void) => transport.onEvent(listener)

/** The typed client of a procedure table, over any function that carries a call. */
export function clientOver<Table>(send: (name: string, input: unknown) => Promise<Reply<unknown>>): Client<Table> {
  return new Proxy({} as Client<Table>, {
    // Without the exception for `then` the client would pass for a promise wherever it is awaited.
    get: (_, name) =>
      typeof name === 'string' && name !== 'then' ? (input: unknown = {}) => send(name, input) : undefined,
  })
}

function overBridge(bridge: DeskByText): Transport {
  return {
    call: async (name, input) => JSON.parse(await bridge.call(name, input)) as Reply<unknown>,
    onEvent: (listener) => bridge.onEvent(listener),
  }
}

function overHttp(): Transport {
  return {
    call: (name, input) => callDesk(name, input, isOnDevice),

    onEvent(listener) {
      // A browser keeps six connections to one address: tabs share one stream, or the sixth would freeze them all.
      const others = new BroadcastChannel('events')
      others.onmessage = ({ data }) => listener(data as DeskEvent)
      const tellAll = (event: DeskEvent): void => {
        listener(event)
        others.postMessage(event)
      }
      const stop = new AbortController()
      // Whoever holds the lock listens; when that tab is closed, the next one takes over.
      const listening = navigator.locks.request('events', { signal: stop.signal }, () =>
        listenUntil(stop.signal, tellAll),
      )
      listening.catch(() => undefined)
      return () => {
        stop.abort()
        others.close()
      }
    },
  }
}

/** Milliseconds until a stream of events that was refused is asked for again. */
const LISTEN_AGAIN_MS = 5_000

function listenUntil(stop: AbortSignal, tell: (event: DeskEvent) => void): Promise<void> {
  let source: EventSource
  let timer: ReturnType<typeof setTimeout> | undefined
  const listen = (): void => {
    source = new EventSource('/events')
    // What happened while nobody listened is not told again: let the screens ask anew.
    source.onopen = () => tell({ kind: 'changed' })
    source.onmessage = (message) => tell(JSON.parse(String(message.data)) as DeskEvent)
    source.onerror = () => {
      // A connection that breaks is taken up again by the browser, one that is refused is closed for good.
      if (source.readyState !== EventSource.CLOSED) return
      // The page asks, and so learns and says why.
      tell({ kind: 'changed' })
      timer = setTimeout(listen, LISTEN_AGAIN_MS)
    }
  }
  listen()
  return new Promise((resolve) => {
    stop.addEventListener('abort', () => {
      clearTimeout(timer)
      source.close()
      resolve()
    })
  })
}
