import { randomBytes } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { closeServer, isSame, limitedServer, listenOnLoopback, newKey } from '../../desk/loopback.ts'
import type { Desk } from '../../desk/desk.ts'
import { pageFile } from '../page-files.ts'

/** Where a browser on this computer finds the app, with the key that can be used once, at either. */
export interface Addresses {
  /** Under a name of its own. */
  readonly address: string
  /** For a browser that does not know that such names are this computer. */
  readonly plain: string
}

export interface BrowserMode extends Addresses {
  /** Others, for a browser that has lost its way in; the key from before is good no more. */
  newAddresses(): Addresses
  close(): Promise<void>
}

/**
 * Serves the app to a browser on this computer. It listens on the loopback address alone, and answers only who opened
 * the printed address: the key in it is exchanged once for a cookie, which no other site can send along. A request under
 * another host name (as after DNS rebinding) or from a page of another origin is refused, whatever it carries.
 *
 * Browsers send a cookie to every port of its host, so under 127.0.0.1 another user's server on this computer would get it. So the app has a
 * name of its own below `localhost`, made up at each start, which browsers take for this computer (RFC 6761, 6.3) and nobody else can guess.
 */
export async function openBrowserMode(desk: Desk, pagesFolder: string): Promise<BrowserMode> {
  const server = limitedServer((request, response) => {
    answerRequest(request, response).catch((fault: unknown) => {
      console.error('Fault while answering the browser:', fault)
      if (response.headersSent) response.destroy()
      else refuse(response, 500, 'Something went wrong inside the app.')
    })
  })
  await listenOnLoopback(server, 0)

  const { port } = server.address() as AddressInfo
  const named: Door = { host: `shop-${randomBytes(8).toString('hex')}.localhost:${port}`, session: newKey() }
  const plain: Door = { host: `127.0.0.1:${port}`, session: newKey() }
  // Cookies do not tell ports apart, so two shops open at once need two names.
  const cookieName = `out-of-clamps-${port}`
  let unusedKey: string | undefined
  const newAddresses = (): Addresses => {
    unusedKey = newKey()
    return { address: `${originOf(named)}/?key=${unusedKey}`, plain: `${originOf(plain)}/?key=${unusedKey}` }
  }

  async function answerRequest(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const door = [named, plain].find(({ host }) => host === request.headers.host)
    if (door === undefined) return refuse(response, 421, 'This is not the address of the app.')
    const origin = originOf(door)
    if (!URL.canParse(request.url ?? '', origin)) return refuse(response, 400, 'This is no address.')
    const url = new URL(request.url ?? '', origin)
    if (isForeign(request, origin)) return refuse(response, 403, 'Pages of other sites get no answer.')
    const key = url.searchParams.get('key')
    if (request.method === 'GET' && url.pathname === '/' && key !== null) return letIn(request, response, { key, door })
    if (!hasSession(request, door))
      return refuse(response, 403, 'Open the address that the app printed when it started.')

    if (request.method === 'POST' && url.pathname === '/call') return call(request, response)
    if (request.method === 'GET' && url.pathname === '/events') return sendEvents(response)
    if (request.method !== 'GET') return refuse(response, 405, 'Nothing can be done here in this way.')
    const file = await pageFile(pagesFolder, url.pathname)
    if (file === undefined) return refuse(response, 404, 'The app has no such page.')
    response.writeHead(200, file.headers).end(file.body)
  }

  const isForeign = ({ headers }: IncomingMessage, origin: string): boolean =>
    (headers.origin !== undefined && headers.origin !== origin) ||
    !['same-origin', 'none', undefined].includes(headers['sec-fetch-site'] as string | undefined)

  const hasSession = ({ headers }: IncomingMessage, { session }: Door): boolean =>
    (headers.cookie ?? '').split(/; */).some((cookie) => isSame(cookie, `${cookieName}=${session}`))

  function letIn(
    request: IncomingMessage,
    response: ServerResponse,
    { key, door }: { readonly key: string; readonly door: Door },
  ): void {
    if (unusedKey !== undefined && isSame(key, unusedKey)) unusedKey = undefined
    else if (!hasSession(request, door)) return refuse(response, 403, usedAddress)
    const cookie = `${cookieName}=${door.session}; HttpOnly; SameSite=Strict; Path=/`
    response.writeHead(303, { location: '/', 'set-cookie': cookie, 'referrer-policy': 'no-referrer' }).end()
  }

  async function call(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!/^application\/json *(;|$)/.test(request.headers['content-type'] ?? ''))
      return refuse(response, 415, 'Calls are written in JSON.')
    const body = await bodyOf(request)
    if (body === undefined) return refuse(response, 413, 'This is more than the app takes at once.')
    const asked = parsed(body)
    if (asked === undefined) return refuse(response, 400, 'Calls are written in JSON.')
    const reply = await desk.call(asked.name, asked.input)
    response
      .writeHead(200, { 'content-type': 'application/json', 'cache-control': 'no-store', ...noSniff })
      .end(JSON.stringify(reply))
  }

  function sendEvents(response: ServerResponse): void {
    response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store', ...noSniff })
    response.write(': open\n\n')
    const stopTelling = desk.onEvent((event) => response.write(`data: ${JSON.stringify(event)}\n\n`))
    const stillThere = setInterval(() => response.write(': still open\n\n'), 20_000)
    response.on('close', () => {
      clearInterval(stillThere)
      stopTelling()
    })
  }

  return {
    ...newAddresses(),
    newAddresses,
    close: () => closeServer(server),
  }
}

/** A name under which the app is reached, with a session of its own: the cookie of one is of no use at the other. */
interface Door {
  readonly host: string
  readonly session: string
}

const originOf = ({ host }: Door): string => `http://${host}`

const noSniff = { 'x-content-type-options': 'nosniff' }

const usedAddress =
  'This address was already opened once, and that is all it is good for. Press Enter where the app runs to get a new one.'

function refuse(response: ServerResponse, status: number, sentence: string): void {
  response
    .writeHead(status, { 'content-type': 'text/plain; charset=utf-8', connection: 'close', ...noSniff })
    .end(`${sentence}\n`)
}

const largestBody = 16 * 1024 * 1024

/** The body as text, or undefined when it is larger than anything the pages send. */
async function bodyOf(request: IncomingMessage): Promise<string | undefined> {
  const parts: Buffer[] = []
  let size = 0
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length
    if (size > largestBody) return undefined
    parts.push(part)
  }
  return Buffer.concat(parts).toString('utf8')
}

function parsed(body: string): { name: string; input: unknown } | undefined {
  try {
    const asked: unknown = JSON.parse(body)
    if (typeof asked !== 'object' || asked === null || !('name' in asked) || typeof asked.name !== 'string')
      return undefined
    return { name: asked.name, input: 'input' in asked ? asked.input : undefined }
  } catch {
    return undefined
  }
}
