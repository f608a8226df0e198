import { request } from 'node:https'
import { expect } from 'vitest'
import { test } from '../../support/app.ts'
import { valueOf } from '../support/small-order.ts'

/** What the address answers to somebody who is not paired. */
const get = (url: string, path: string): Promise<{ status: number; text: string }> =>
  new Promise((resolve, reject) => {
    const asked = request(new URL(path, url), { rejectUnauthorized: false, agent: false }, (response) => {
      let text = ''
      response.on('data', (part: Buffer) => (text += part.toString()))
      response.on('end', () => resolve({ status: response.statusCode ?? 0, text }))
    })
    asked.on('error', reject)
    asked.end()
  })

test('the door opens when it is switched on, gives the app’s own files alone, and shuts', async ({ openApp }) => {
  const app = await openApp()
  expect(valueOf(await app.desk.devices()).url).toBeNull()
  const { url, fingerprint } = valueOf(await app.desk.devicesOn({ address: '127.0.0.1' }))
  expect(fingerprint).toMatch(/^([\dA-F]{2}:){31}[\dA-F]{2}$/)
  expect(await get(url!, '/')).toMatchObject({ status: 200, text: expect.stringContaining('<div id="app">') })
  expect((await get(url!, '/events')).status).toBe(401)
  await app.desk.devicesOff()
  await expect(get(url!, '/')).rejects.toThrow(/ECONNREFUSED/)
})
