import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { createInterface } from 'node:readline'
import { expect, onTestFinished } from 'vitest'
import { test } from '../support/app.ts'
import { startArguments, startEnvironment } from '../support/browser-mode.ts'

/** A server of somebody else on this computer: the cookies that it was sent. */
async function aStranger(): Promise<{ readonly port: number; readonly cookies: (string | undefined)[] }> {
  const cookies: (string | undefined)[] = []
  const server = createServer((request, response) => {
    cookies.push(request.headers.cookie)
    response.setHeader('content-type', 'text/html').end('<title>Stranger</title>')
  })
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  onTestFinished(() => void server.close())
  return { port: (server.address() as AddressInfo).port, cookies }
}

test('another server of this computer is never sent the session, whatever its port and name', async ({ openApp }) => {
  const { page } = await openApp()
  const stranger = await aStranger()
  expect(new URL(page.url()).hostname).toMatch(/^shop-[0-9a-f]{16}\.localhost$/)
  const session = await page.context().cookies()
  expect(session.map(({ domain, httpOnly, sameSite }) => [domain, httpOnly, sameSite])).toEqual([
    [new URL(page.url()).hostname, true, 'Strict'],
  ])
  const tab = await page.context().newPage()
  for (const host of ['127.0.0.1', 'localhost', 'shop-0123456789abcdef.localhost'])
    await tab.goto(`http://${host}:${stranger.port}/`)
  expect(stranger.cookies.length).toBeGreaterThanOrEqual(3)
  expect(stranger.cookies.filter((cookie) => cookie !== undefined)).toEqual([])
})

test('without its name the app answers nothing but how to get in', async ({ openApp }) => {
  const { page } = await openApp()
  const tab = await page.context().newPage()
  const answer = await tab.goto(`http://127.0.0.1:${new URL(page.url()).port}/`)
  expect(answer?.status()).toBe(403)
  await tab.getByText('Open the address that the app printed').waitFor()
})

test('Enter in the terminal prints an address that lets a browser in again, and a second start says so', async ({
  dataFolder,
}) => {
  const serve = () =>
    spawn(process.execPath, ['out/main/serve.js', ...startArguments({ dataFolder })], {
      env: startEnvironment({ dataFolder }),
      stdio: ['pipe', 'pipe', 'pipe'],
    })
  const child = serve()
  const ended = once(child, 'exit')
  onTestFinished(async () => {
    child.kill('SIGTERM')
    await ended
  })
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]()
  const nextPlain = async (): Promise<string> => {
    for (;;) {
      const { value, done } = await lines.next()
      if (done === true) throw new Error('No address was printed')
      const address = /http:\/\/127\S+/.exec(value)?.[0]
      if (address !== undefined) return address
    }
  }
  const enters = async (address: string): Promise<boolean> =>
    (await fetch(address, { redirect: 'manual' })).headers.getSetCookie().length > 0

  const first = await nextPlain()
  expect(await enters(first)).toBe(true)
  // Good for one use: who closed the browser is out.
  expect(await enters(first)).toBe(false)
  child.stdin.write('\n')
  const second = await nextPlain()
  expect(second).not.toBe(first)
  expect(await enters(second)).toBe(true)

  const other = serve()
  let refusal = ''
  other.stderr.on('data', (part: Buffer) => (refusal += part.toString()))
  expect((await once(other, 'exit'))[0]).toBe(1)
  expect(refusal).toMatch(/already open in the browser, whose terminal prints a new address at Enter \(since /)
})
