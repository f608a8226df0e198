import { once } from 'node:events'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { expect, onTestFinished } from 'vitest'
import { test } from '../support/app.ts'

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
