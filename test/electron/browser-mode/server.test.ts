import { once } from 'node:events'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { createServer, request, type IncomingHttpHeaders } from 'node:http'
import { connect, type AddressInfo, type Socket } from 'node:net'
import { networkInterfaces, tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, onTestFinished, test } from 'vitest'
import { ok } from '../../../core/problems.ts'
import type { Desk } from '../../../desk/desk.ts'
import type { DeskEvent } from '../../../desk/desk-event.ts'
import { openBrowserMode, type BrowserMode } from '../../../electron/browser-mode/server.ts'

interface Answer {
  readonly status: number
  readonly headers: IncomingHttpHeaders
  readonly body: string
}

interface Asked {
  readonly method?: string
  readonly path?: string
  readonly headers?: Readonly<Record<string, string>>
  readonly body?: string
}

describe('browser mode', () => {
  let pages = ''
  let open: BrowserMode
  let asked: [string, unknown][] = []
  let listeners: ((event: DeskEvent) => void)[] = []

  // As small a desk as can be: what it does is no matter here, only who gets to it.
  const desk: Desk = {
    call(name, input) {
      asked.push([name, input])
      return Promise.resolve(ok({ name, input }))
    },
    onEvent(listener) {
      listeners.push(listener)
      return () => (listeners = listeners.filter((other) => other !== listener))
    },
    close: () => Promise.resolve(),
  }

  beforeEach(async () => {
    asked = []
    listeners = []
    pages = mkdtempSync(join(tmpdir(), 'browser-mode-'))
    writeFileSync(join(pages, 'index.html'), '<title>Shop</title>')
    open = await openBrowserMode(desk, pages)
  })
  afterEach(async () => {
    await open.close()
    rmSync(pages, { recursive: true })
  })

  const host = (): string => new URL(open.address).host

  /** A request with exactly these headers, as no browser would send all of them. */
  const ask = ({ method = 'GET', path = '/', headers = {}, body }: Asked): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const { port } = new URL(open.address)
      const sent = request(
        { hostname: '127.0.0.1', port, method, path, headers: { host: host(), ...headers } },
        (response) => {
          let text = ''
          response.setEncoding('utf8')
          response.on('data', (part: string) => (text += part))
          response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, body: text }))
          response.on('error', reject)
        },
      )
      sent.on('error', reject)
      sent.end(body)
    })

  const useKey = async (): Promise<string> => {
    const { pathname, search } = new URL(open.address)
    const { headers } = await ask({ path: pathname + search })
    return headers['set-cookie']?.[0]?.split(';')[0] ?? ''
  }

  const call = (headers: Readonly<Record<string, string>>, body = '{"name":"rack","input":{}}'): Promise<Answer> =>
    ask({ method: 'POST', path: '/call', headers: { 'content-type': 'application/json', ...headers }, body })

  test('listens on the loopback address alone', async () => {
    const { hostname, port } = new URL(open.address)
    expect(hostname).toMatch(/^shop-[0-9a-f]{16}\.localhost$/)
    const outside = Object.values(networkInterfaces())
      .flat()
      .filter((net) => net !== undefined && !net.internal && net.family === 'IPv4')
    for (const net of outside) {
      const reached = await new Promise((resolve) => {
        const socket = connect(Number(port), net?.address)
        socket.on('connect', () => resolve(true)).on('error', () => resolve(false))
        socket.setTimeout(2000, () => resolve(false))
        socket.on('close', () => socket.destroy())
      })
      expect(reached, net?.address).toBe(false)
    }
  })

  test('exchanges the key of the printed address for a cookie that scripts and other sites never see', async () => {
    const { pathname, search } = new URL(open.address)
    const { status, headers } = await ask({ path: pathname + search })
    expect(status).toBe(303)
    expect(headers.location).toBe('/')
    expect(headers['set-cookie']?.[0]).toMatch(/^[^=]+=[\w-]{32}; HttpOnly; SameSite=Strict; Path=\/$/)
    const page = await ask({ headers: { cookie: headers['set-cookie']?.[0]?.split(';')[0] ?? '' } })
    expect(page).toMatchObject({ status: 200, body: '<title>Shop</title>' })
  })

  test('takes the key once; who is in already may use the address again', async () => {
    const cookie = await useKey()
    const { pathname, search } = new URL(open.address)
    expect(await ask({ path: pathname + search })).toMatchObject({ status: 403 })
    expect(await ask({ path: pathname + search, headers: { cookie } })).toMatchObject({ status: 303 })
  })

  test('has another name at each start, and at the plain address, for a browser that cannot find that, another session', async () => {
    const again = await openBrowserMode(desk, pages)
    expect(new URL(again.address).hostname).not.toBe(new URL(open.address).hostname)
    await again.close()

    const plain = { host: new URL(open.plain).host }
    expect(plain.host).toBe(`127.0.0.1:${new URL(open.address).port}`)
    const cookie = await useKey()
    // Neither the used key nor the cookie of the name opens anything there, nor the other way round.
    const { pathname, search } = new URL(open.plain)
    expect(await ask({ path: pathname + search, headers: { ...plain, cookie } })).toMatchObject({ status: 403 })
    expect(await ask({ headers: { ...plain, cookie } })).toMatchObject({ status: 403 })
    const fresh = new URL(open.newAddresses().plain)
    const { headers } = await ask({ path: fresh.pathname + fresh.search, headers: plain })
    const theirs = headers['set-cookie']?.[0]?.split(';')[0] ?? ''
    expect(await ask({ headers: { ...plain, cookie: theirs } })).toMatchObject({ status: 200 })
    expect(await ask({ headers: { cookie: theirs } })).toMatchObject({ status: 403 })
  })

  test('sends pages with the policy of the window', async () => {
    const { headers } = await ask({ headers: { cookie: await useKey() } })
    expect(headers['content-security-policy']).toMatch(/^default-src 'none'; script-src 'self'; style-src 'self';/)
    expect(headers['x-content-type-options']).toBe('nosniff')
  })

  test('carries calls to the desk', async () => {
    const answer = await call({ cookie: await useKey() })
    expect(answer.status).toBe(200)
    expect(JSON.parse(answer.body)).toEqual({ ok: true, value: { name: 'rack', input: {} } })
    expect(asked).toEqual([['rack', {}]])
  })

  test.each([
    ['/', 'GET'],
    ['/index.html', 'GET'],
    ['/call', 'POST'],
    ['/events', 'GET'],
    ['/?key=', 'GET'],
    ['/?key=guessed', 'GET'],
  ])('answers nobody without the key: %s', async (path, method) => {
    const headers = { 'content-type': 'application/json', cookie: 'out-of-clamps=guessed' }
    const answer = await ask({ path, method, headers, ...(method === 'POST' ? { body: '{"name":"rack"}' } : {}) })
    expect(answer.status).toBe(403)
    expect(answer.body).not.toContain('Shop')
    expect(asked).toEqual([])
  })

  test.each([
    ['another host name, as after DNS rebinding', { host: 'shop.example' }, 421],
    ['the right name with another port', { host: '127.0.0.1:1' }, 421],
    ['localhost itself', { host: 'localhost' }, 421],
    ['another name of this computer', { host: 'shop-0123456789abcdef.localhost' }, 421],
    ['a page of another site', { origin: 'https://shop.example' }, 403],
    ['a page of another program on this computer', { origin: 'http://127.0.0.1:1' }, 403],
    ['a page without an origin of its own', { origin: 'null' }, 403],
    ['a request that the browser says is cross-site', { 'sec-fetch-site': 'cross-site' }, 403],
    ['a request from another port of this computer', { 'sec-fetch-site': 'same-site' }, 403],
    ['a form', { 'content-type': 'application/x-www-form-urlencoded' }, 415],
    ['plain text, which needs no permission to be sent', { 'content-type': 'text/plain' }, 415],
    ['something that only begins like JSON', { 'content-type': 'application/jsonp' }, 415],
  ])('refuses %s, even with the cookie', async (_, headers, status) => {
    const answer = await call({ cookie: await useKey(), ...headers })
    expect(answer.status).toBe(status)
    expect(asked).toEqual([])
  })

  test.each(['', '{', '7', '[]', '{}', '{"name":7}'])('refuses a call that is none: %j', async (body) => {
    expect(await call({ cookie: await useKey() }, body)).toMatchObject({ status: 400 })
    expect(asked).toEqual([])
  })

  test('refuses more than a page ever sends', async () => {
    const body = JSON.stringify({ name: 'rack', input: 'x'.repeat(17 * 1024 * 1024) })
    const answer = await call({ cookie: await useKey() }, body).catch(() => ({ status: 413 }))
    expect(answer.status).toBe(413)
    expect(asked).toEqual([])
  })

  test('knows no other paths and ways', async () => {
    const cookie = await useKey()
    for (const path of ['/no-such.js', '/../package.json', '/%2e%2e/package.json', '/call']) {
      expect(await ask({ path, headers: { cookie } }), path).toMatchObject({ status: 404 })
    }
    for (const method of ['PUT', 'DELETE', 'OPTIONS', 'PATCH']) {
      expect(await ask({ path: '/call', method, headers: { cookie } }), method).toMatchObject({ status: 405 })
    }
  })

  test('tells the page what happens, and stops when the page is gone', async () => {
    const cookie = await useKey()
    const { port } = new URL(open.address)
    const told = await new Promise<string>((resolve, reject) => {
      const sent = request(
        { hostname: '127.0.0.1', port, path: '/events', headers: { host: host(), cookie } },
        (response) => {
          let text = ''
          response.on('data', (part: Buffer) => {
            text += part.toString()
            if (text.includes('"changed"')) {
              resolve(text)
              sent.destroy()
            } else for (const listener of listeners) listener({ kind: 'changed' })
          })
        },
      )
      sent.on('error', reject).end()
    })
    expect(told).toContain('data: {"kind":"changed"}\n\n')
    await expect.poll(() => listeners.length).toBe(0)
  })

  test('who begins a request and does not end it is cut off, sooner than by a server without limits; others get answers meanwhile', async () => {
    const other = createServer()
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve))
    onTestFinished(() => {
      other.close()
      other.closeAllConnections()
    })
    const halfOpen = (port: number): Socket => {
      const socket = connect({ host: '127.0.0.1', port }, () => socket.write('GET / HTTP/1.1\r\nx-half: '))
      // Cut off, whichever way.
      return socket.on('error', () => undefined).resume()
    }
    const [mine, without] = [
      halfOpen(Number(new URL(open.address).port)),
      halfOpen((other.address() as AddressInfo).port),
    ]
    const cut = once(mine, 'close')
    expect((await ask({ path: '/' })).status).toBeLessThan(500)
    await cut
    expect(without.closed).toBe(false)
  })
})
