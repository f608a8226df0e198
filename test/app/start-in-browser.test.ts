import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { expect, onTestFinished } from 'vitest'
import { test } from '../support/app.ts'

const projectFolder = join(import.meta.dirname, '../..')

test('npm start serves the app to a browser where the window’s runtime is not to be had, and says so in one line', async ({
  dataFolder,
}) => {
  // Where Electron looks for its own files there are none.
  const nothing = join(dataFolder, 'nothing')
  await mkdir(nothing)
  const { ELECTRON_EXEC_PATH: _, ...env } = process.env
  const child = spawn(process.execPath, ['commands/start.ts', `--data=${join(dataFolder, 'shop')}`], {
    cwd: projectFolder,
    env: { ...env, DISPLAY: ':0', ELECTRON_OVERRIDE_DIST_PATH: nothing },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const ended = once(child, 'exit')
  onTestFinished(async () => {
    child.kill('SIGTERM')
    await ended
  })

  const lines: string[] = []
  // The plain one of the two: not every system knows names below localhost.
  let address: string | undefined
  for await (const line of createInterface({ input: child.stdout })) {
    lines.push(line)
    address = /http:\/\/127\S+/.exec(line)?.[0]
    if (address !== undefined) break
  }
  child.stdout.resume()
  expect(lines.filter((line) => line.startsWith('No window'))).toEqual([
    'No window: Electron’s own files are not here and cannot be downloaded. The same app opens in a browser instead.',
  ])
  if (address === undefined) throw new Error(`No address was printed: ${lines.join('\n')}`)
  // The key is exchanged for a cookie, with which the page is answered.
  const entered = await fetch(address, { redirect: 'manual' })
  const cookie = entered.headers
    .getSetCookie()
    .map((each) => each.split(';')[0])
    .join('; ')
  const page = await fetch(new URL('/', address), { headers: { cookie } })
  expect(page.status).toBe(200)
  expect(await page.text()).toContain('<title>Out of Clamps</title>')
})
