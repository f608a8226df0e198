import { execFile } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { buildIfStale } from '../../../commands/build.ts'
import { startBrowserMode, type BrowserModeProgram } from '../../support/browser-mode.ts'

describe('browser mode as a program', () => {
  beforeAll(async () => expect(await buildIfStale()).toBe(true), 300_000)

  let dataFolder = ''
  const running: BrowserModeProgram[] = []
  beforeEach(() => {
    dataFolder = mkdtempSync(join(tmpdir(), 'browser-mode-program-'))
  })
  afterEach(async () => {
    await Promise.all(running.splice(0).map((program) => program.kill()))
    rmSync(dataFolder, { recursive: true })
  })

  const start = async (): Promise<BrowserModeProgram> => {
    const program = await startBrowserMode({ dataFolder })
    running.push(program)
    return program
  }

  test('closes the shop in good order and opens it again, at another address with another key', async () => {
    const first = await start()
    expect(await first.stop()).toBe(0)
    const second = await start()
    expect(new URL(second.address).search).not.toBe(new URL(first.address).search)
    expect(first.errors() + second.errors()).toBe('')
  })

  test.runIf(process.platform !== 'win32')(
    'leaves nothing in its folder that others could read, whatever the computer allows new files',
    async () => {
      const shop = join(dataFolder, 'shop')
      const program = await startBrowserMode({ dataFolder: shop, umask: '000' })
      running.push(program)
      expect(await program.stop()).toBe(0)
      const modes = readdirSync(shop, { recursive: true, encoding: 'utf8' }).map((name) => {
        const state = statSync(join(shop, name))
        return [name, state.isDirectory() ? 'folder' : 'file', (state.mode & 0o777).toString(8)]
      })
      expect(modes.map(([name]) => name)).toEqual(expect.arrayContaining(['backups', 'shop.sqlite']))
      expect(modes.filter(([, kind, mode]) => mode !== (kind === 'folder' ? '700' : '600'))).toEqual([])
      expect((statSync(shop).mode & 0o777).toString(8)).toBe('700')
    },
  )

  test('opens the shop again after it was ended without warning', async () => {
    await (await start()).kill()
    await start()
  })

  test('leaves a shop alone that is open already, and says where', async () => {
    await start()
    await expect(startBrowserMode({ dataFolder })).rejects.toThrow(/already open in the browser/)
  })

  test('says what it can be started with when it is asked for something else', async () => {
    const program = join(import.meta.dirname, '../../../out/main/serve.js')
    const ended = await new Promise((resolve) =>
      execFile(process.execPath, [program, '--demmo'], (error, _, errors) => resolve([error?.code, errors])),
    )
    expect(ended).toEqual([1, expect.stringMatching(/^The app can be started with --demo/)])
  })
})
