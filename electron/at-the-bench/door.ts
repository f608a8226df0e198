import { createServer } from 'node:https'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { BlockList, type AddressInfo, type Socket } from 'node:net'
import type { Device, Door, DoorPlan, SentPress, Visitors } from '../../desk/devices/door.ts'
import { pageFile } from '../page-files.ts'
import { cookieOf, keyInCookie } from './device-cookie.ts'
import { PAIRED, RequestRate, STRANGER } from './request-rate.ts'

/** Milliseconds that a visitor may take to say hello, to send the heads and to send all of a request. */
const HELLO_MS = 5_000
const HEADS_MS = 5_000
const REQUEST_MS = 15_000
const MOST_CONNECTIONS = 60
/** A browser opens six, and one stream of events beside them. */
const MOST_FROM_ONE_ADDRESS = 12
const MOST_STREAMS_OF_DEVICE = 2
/** An order being typed with its forty pieces is a tenth of this. */
const LARGEST_CALL = 512 * 1024
const LARGEST_CODE = 1024

/**
 * Opens the door for paired phones and tablets: TLS alone, on one address, under no other name. The app's own files are given to
 * whoever asks, as they hold nothing of the shop; everything else takes a device's key, which comes in a cookie that no page can
 * read and no other site can send along. Limits keep a visitor from using up what the desk needs for itself.
 */
export function doorOn(pagesFolder: string): (plan: DoorPlan, visitors: Visitors) => Promise<Door> {
  return async ({ address, prefix, port, certificate, privateKey }, visitors) => {
    const server = createServer({
      cert: certificate,
      key: privateKey,
      minVersion: 'TLSv1.2',
      handshakeTimeout: HELLO_MS,
      headersTimeout: HEADS_MS,
      requestTimeout: REQUEST_MS,
      connectionsCheckingInterval: 1_000,
      keepAliveTimeout: HEADS_MS,
      maxHeaderSize: 8 * 1024,
    })
    server.maxConnections = MOST_CONNECTIONS
    server.on('connection', onlyFrom(address, prefix))
    server.on('connection', fewFromOneAddress())
    const open = new Set<Socket>()
    server.on('connection', (socket: Socket) => {
      open.add(socket)
      socket.once('close', () => open.delete(socket))
    })
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject)
      server.listen(port, address, resolve)
    })
    const bound = (server.address() as AddressInfo).port
    const reception = new Reception(`${address}:${bound}`, pagesFolder, visitors)
    server.on('request', (request: IncomingMessage, response: ServerResponse) => {
      reception.answer(request, response).catch((fault: unknown) => {
        if (response.destroyed) return
        console.error('Fault while answering a device:', fault)
        if (response.headersSent) response.destroy()
        else refuse(response, 500, 'Something went wrong inside the app.')
      })
    })
    return {
      port: bound,
      turnAway: (deviceId) => reception.turnAway(deviceId),
      close: () =>
        new Promise((resolve) => {
          server.close(() => resolve())
          // Also those that have not said hello yet: a server that is closing knows nothing of them, and would wait for them for ever.
          for (const socket of open) socket.destroy()
        }),
    }
  }
}

/**
 * Listening on one address is not enough: a computer also takes what is sent to that address by way of its other networks.
 * @source RFC 1122, 3.3.4.2: the weak ES model
 */
function onlyFrom(address: string, prefix: number): (socket: Socket) => void {
  const network = new BlockList()
  network.addSubnet(address, prefix)
  return (socket) => {
    if (!network.check(socket.remoteAddress ?? '')) socket.destroy()
  }
}

function fewFromOneAddress(): (socket: Socket) => void {
  const counts = new Map<string, number>()
  return (socket) => {
    const from = socket.remoteAddress ?? ''
    const count = (counts.get(from) ?? 0) + 1
    if (count > MOST_FROM_ONE_ADDRESS) return void socket.destroy()
    counts.set(from, count)
    socket.once('close', () => {
      const left = (counts.get(from) ?? 1) - 1
      if (left === 0) counts.delete(from)
      else counts.set(from, left)
    })
  }
}

class Reception {
  readonly #host: string
  readonly #origin: string
  readonly #pages: string
  readonly #visitors: Visitors
  readonly #strangers = new RequestRate(STRANGER)
  readonly #paired = new RequestRate(PAIRED)
  readonly #streams = new Map<string, Set<ServerResponse>>()

  constructor(host: string, pages: string, visitors: Visitors) {
    this.#host = host
    this.#origin = `https://${host}`
    this.#pages = pages
    this.#visitors = visitors
  }

  turnAway(deviceId: string): void {
    for (const response of this.#streams.get(deviceId) ?? []) response.destroy()
  }

  async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { method, headers } = request
    if (headers.host !== this.#host) return refuse(response, 421, 'This is not the address of the app.')
    if (this.#isForeign(request)) return refuse(response, 403, 'Pages of other sites get no answer.')
    const device = this.#visitors.deviceOf(keyInCookie(headers.cookie))
    const isInTime =
      device === null ? this.#strangers.allows(request.socket.remoteAddress ?? '') : this.#paired.allows(device.id)
    if (!isInTime) return refuse(response, 429, 'Too many requests at once.')
    if (!URL.canParse(request.url ?? '', this.#origin)) return refuse(response, 400, 'This is no address.')
    const { pathname } = new URL(request.url ?? '', this.#origin)
    if (method === 'POST' && pathname === '/pair') return this.#pair(request, response)
    const isCall = method === 'POST' && pathname === '/call'
    if (isCall || (method === 'GET' && pathname === '/events')) {
      if (device === null) return refuse(response, 401, 'This device is not paired.')
      return isCall ? this.#call(device, request, response) : this.#sendEvents(device, response)
    }
    if (method !== 'GET') return refuse(response, 405, 'Nothing can be done here in this way.')
    const file = await pageFile(this.#pages, pathname)
    if (file === undefined) return refuse(response, 404, 'The app has no such page.')
    response.writeHead(200, file.headers).end(file.body)
  }

  /** A page of another origin, or something that posts and does not say where it comes from. */
  #isForeign({ method, headers }: IncomingMessage): boolean {
    const mustSay = method !== 'GET'
    if (headers.origin === undefined ? mustSay : headers.origin !== this.#origin) return true
    return !['same-origin', 'none', undefined].includes(headers['sec-fetch-site'] as string | undefined)
  }

  async #pair(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const asked = await jsonOf(request, response, LARGEST_CODE)
    if (asked === undefined) return
    const { code } = asked
    const paired = this.#visitors.pair(typeof code === 'string' ? code : '')
    if (!paired.ok) return sendJson(response, paired)
    response.setHeader('set-cookie', cookieOf(paired.value.key))
    // The key itself is for the cookie alone, which no page can read.
    sendJson(response, { ok: true, value: null })
  }

  async #call(device: Device, request: IncomingMessage, response: ServerResponse): Promise<void> {
    const asked = await jsonOf(request, response, LARGEST_CALL)
    if (asked === undefined) return
    const { name, input, press } = asked
    if (typeof name !== 'string') return refuse(response, 400, 'Calls are written in JSON.')
    // Shut out while the request was on its way.
    if (this.#visitors.deviceOf(keyInCookie(request.headers.cookie)) === null)
      return refuse(response, 401, 'This device is not paired.')
    sendJson(response, await this.#visitors.call(device, name, input, (press ?? null) as SentPress | null))
  }

  #sendEvents(device: Device, response: ServerResponse): void {
    const streams = this.#streams.get(device.id) ?? new Set<ServerResponse>()
    this.#streams.set(device.id, streams.add(response))
    this.#endOldest(streams)
    response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store', ...noSniff })
    response.write(': open\n\n')
    const stopTelling = this.#visitors.onEvent((event) => response.write(`data: ${JSON.stringify(event)}\n\n`))
    const stillThere = setInterval(() => response.write(': still open\n\n'), 20_000)
    response.on('close', () => {
      clearInterval(stillThere)
      stopTelling()
      streams.delete(response)
    })
  }

  /** A phone that left the network did not say so: its stream stands open for minutes, and the newest one is the one it hears. */
  #endOldest(streams: Set<ServerResponse>): void {
    for (const oldest of streams) {
      if (streams.size <= MOST_STREAMS_OF_DEVICE) return
      streams.delete(oldest)
      oldest.destroy()
    }
  }
}

const noSniff = { 'x-content-type-options': 'nosniff' }

const sendJson = (response: ServerResponse, value: unknown): void =>
  void response
    .writeHead(200, { 'content-type': 'application/json', 'cache-control': 'no-store', ...noSniff })
    .end(JSON.stringify(value))

function refuse(response: ServerResponse, status: number, sentence: string): void {
  response
    .writeHead(status, { 'content-type': 'text/plain; charset=utf-8', connection: 'close', ...noSniff })
    .end(`${sentence}\n`)
}

/** The object that was sent; undefined: it was refused. */
async function jsonOf(
  request: IncomingMessage,
  response: ServerResponse,
  largest: number,
): Promise<Readonly<Record<string, unknown>> | undefined> {
  if (!/^application\/json *(;|$)/.test(request.headers['content-type'] ?? ''))
    return void refuse(response, 415, 'Calls are written in JSON.')
  const parts: Buffer[] = []
  let size = 0
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length
    if (size > largest) return void refuse(response, 413, 'This is more than the app takes at once.')
    parts.push(part)
  }
  try {
    const read: unknown = JSON.parse(Buffer.concat(parts).toString('utf8'))
    if (typeof read === 'object' && read !== null) return read as Record<string, unknown>
  } catch {
    // Said below.
  }
  return void refuse(response, 400, 'Calls are written in JSON.')
}
