import { join } from 'node:path'
import { expect } from 'vitest'
import { test } from '../support/app.ts'
import { startBrowserMode } from '../support/browser-mode.ts'
import { deskOf } from '../support/desk-of-page.ts'
import { PATIENCE_MS } from '../support/patience.ts'
import { liveWholeOrder } from './support/whole-order.ts'

test('in a whole order no request leaves the computer: neither the page nor the program asks anybody else', async ({
  browser,
  dataFolder,
}) => {
  const before = process.env['NODE_OPTIONS']
  process.env['NODE_OPTIONS'] = `--import=${join(import.meta.dirname, '../support/watch-network.mjs')}`
  const program = await startBrowserMode({ dataFolder }).finally(() => {
    if (before === undefined) delete process.env['NODE_OPTIONS']
    else process.env['NODE_OPTIONS'] = before
  })
  const context = await browser!.newContext()
  context.setDefaultTimeout(PATIENCE_MS)
  const asked: string[] = []
  context.on('request', (request) => asked.push(request.url()))
  const page = await context.newPage()
  await page.goto(program.address)
  await liveWholeOrder({ page, dataFolder, desk: deskOf(page), complaints: [], close: () => Promise.resolve() })

  const { origin } = new URL(page.url())
  expect(asked.length).toBeGreaterThan(20)
  expect(asked.filter((url) => !url.startsWith(`${origin}/`) && !/^(blob|data):/.test(url))).toEqual([])
  await context.close()
  await program.stop()
  expect(program.errors()).not.toContain('NETWORK')
})

test('the watch on the program sees a connection when there is one', async ({ dataFolder }) => {
  const { spawnSync } = await import('node:child_process')
  const code = `require('node:net').connect(9, '127.0.0.1').on('error', () => undefined)`
  const watched = join(import.meta.dirname, '../support/watch-network.mjs')
  const { stderr } = spawnSync(process.execPath, [`--import=${watched}`, '-e', code], {
    cwd: dataFolder,
    encoding: 'utf8',
  })
  expect(stderr).toContain('NETWORK')
})
