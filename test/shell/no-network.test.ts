import { expect } from 'vitest'
import { liveWholeOrder } from '../app/support/whole-order.ts'
import { test } from '../support/app.ts'

test('in a whole order the window asks nobody: every request of its session stays with the app’s own pages', async ({
  openWindow,
}) => {
  const app = await openWindow({ tray: 'never' })
  const own = new URL(app.page.url()).protocol
  await app.electron.evaluate(({ session }) => {
    const asked: string[] = ((globalThis as unknown as { asked: string[] }).asked = [])
    session.defaultSession.webRequest.onBeforeRequest((details, answer) => {
      asked.push(details.url)
      answer({})
    })
  })
  await app.page.reload()
  await liveWholeOrder(app)
  const asked = await app.electron.evaluate(() => (globalThis as unknown as { asked: string[] }).asked)
  expect(asked.length).toBeGreaterThan(0)
  expect(asked.filter((url) => new URL(url).protocol !== own && !/^(blob|data|devtools):/.test(url))).toEqual([])
})
