import { execFileSync, spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { FuseState, FuseV1Options, getCurrentFuseWire } from '@electron/fuses'
import { chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, onTestFinished, test } from 'vitest'
import { hasDpkg } from '../../commands/packaging/debian-package.ts'
import { FUSES } from '../../commands/packaging/set-fuses.ts'
import { makePackages } from '../../commands/packaging/make-packages.ts'
import { deskOf } from '../support/desk-of-page.ts'
import { PATIENCE_MS } from '../support/patience.ts'
import { openShopFile } from '../../db/connection.ts'
import { migrations } from '../../migrations/index.ts'
import { fillAsVersion } from '../db/support/earlier-versions.ts'
import type { Kysely } from 'kysely'

/** Packaging takes a minute or two on a busy machine; all tests share one package. */
const patience = 300_000

let files: readonly string[] = []
let root = ''
const fileOf = (ending: string): string => files.find((file) => file.endsWith(ending)) ?? ''
const program = (): string => join(root, 'usr/lib/out-of-clamps/out-of-clamps')

describe.runIf(process.platform === 'linux' && hasDpkg())('the package for Debian (where there is dpkg)', () => {
  beforeAll(async () => {
    files = await makePackages()
    root = await mkdtemp(join(tmpdir(), 'out-of-clamps-package-'))
    execFileSync('dpkg-deb', ['-x', fileOf('.deb'), root])
  }, patience)

  afterAll(() => rm(root, { recursive: true, force: true }))

  test('comes with an archive, a bill of materials and checksums that fit', () => {
    expect(files.map((file) => basename(file).replace(/^out-of-clamps[-_]\d+\.\d+\.\d+/, '')).sort()).toEqual([
      '-linux-x64.tar.gz',
      '.cdx.json',
      'SHA256SUMS',
      '_amd64.deb',
    ])
    const lines = readFileSync(fileOf('SHA256SUMS'), 'utf8').trimEnd().split('\n')
    expect(lines).toHaveLength(3)
    for (const line of lines) {
      const [sum, name = ''] = line.split('  ')
      expect(
        createHash('sha256')
          .update(readFileSync(fileOf(name)))
          .digest('hex'),
      ).toBe(sum)
    }
    const bill = JSON.parse(readFileSync(fileOf('.cdx.json'), 'utf8')) as {
      bomFormat: string
      components: { name: string }[]
    }
    expect(bill.bomFormat).toBe('CycloneDX')
    expect(bill.components.map(({ name }) => name)).toContain('better-sqlite3')
  })

  test('has a desktop entry, an icon and the licenses, and leaves nobody’s data behind or takes them', () => {
    const entry = readFileSync(join(root, 'usr/share/applications/out-of-clamps.desktop'), 'utf8')
    expect(entry).toMatch(/^Name=Out of Clamps$/m)
    expect(entry).toMatch(/^Exec=out-of-clamps/m)
    expect(entry).toMatch(/^Icon=out-of-clamps$/m)
    expect(entry).toMatch(/^MimeType=x-scheme-handler\/out-of-clamps;?$/m)
    expect(existsSync(join(root, 'usr/share/pixmaps/out-of-clamps.png'))).toBe(true)
    // Where About says that they are.
    expect(existsSync(join(root, 'usr/lib/out-of-clamps/LICENSES.chromium.html'))).toBe(true)
    expect(readFileSync(join(root, 'usr/share/doc/out-of-clamps/copyright'), 'utf8')).toMatch(/Electron/)
    // No script runs when it is removed, so that nothing but its own files goes.
    const control = execFileSync('dpkg-deb', ['-I', fileOf('.deb')], { encoding: 'utf8' })
    expect(control).not.toMatch(/postrm|prerm/)
    const installed = execFileSync('dpkg-deb', ['-c', fileOf('.deb')], { encoding: 'utf8' })
    expect(installed).not.toMatch(/\.\/(home|root|etc|var)\//)
  })

  test.skipIf(process.getuid?.() !== 0)(
    'is installed and removed by dpkg (as root), and leaves the data where they are',
    { timeout: patience },
    async () => {
      // A system of its own in a folder: nothing but dpkg's list of what is installed, and somebody's data.
      const system = await aFolder()
      mkdirSync(join(system, 'var/lib/dpkg/updates'), { recursive: true })
      mkdirSync(join(system, 'var/lib/dpkg/info'))
      writeFileSync(join(system, 'var/lib/dpkg/status'), '')
      const data = join(system, 'home/maker/.config/Out of Clamps')
      mkdirSync(data, { recursive: true })
      writeFileSync(join(data, 'shop.sqlite'), 'years of orders')
      const dpkg = (...args: string[]): string =>
        execFileSync('dpkg', [`--root=${system}`, `--log=${join(system, 'dpkg.log')}`, '--force-depends', ...args], {
          encoding: 'utf8',
          stdio: 'pipe',
        })
      const filesOfProgram = (): string[] =>
        readdirSync(system, { recursive: true, encoding: 'utf8' })
          .filter((path) => path.includes('out-of-clamps') && !path.startsWith('var/'))
          .sort()

      dpkg('--install', fileOf('.deb'))
      expect(dpkg('--status', 'out-of-clamps')).toMatch(/^Status: install ok installed$/m)
      expect(filesOfProgram()).toEqual(
        expect.arrayContaining(['usr/bin/out-of-clamps', 'usr/lib/out-of-clamps/out-of-clamps']),
      )

      dpkg('--purge', 'out-of-clamps')
      expect(filesOfProgram()).toEqual([])
      expect(readFileSync(join(data, 'shop.sqlite'), 'utf8')).toBe('years of orders')
      expect(readdirSync(join(system, 'home/maker/.config'))).toEqual(['Out of Clamps'])
    },
  )

  test('refuses to be a Node, to be steered by the environment and to load anything but its archive', async () => {
    const wire = await getCurrentFuseWire(program())
    for (const [fuse, on] of Object.entries(FUSES))
      expect([FuseV1Options[Number(fuse)], wire[Number(fuse) as FuseV1Options]]).toEqual([
        FuseV1Options[Number(fuse)],
        on ? FuseState.ENABLE : FuseState.DISABLE,
      ])
    expect(readdirSync(join(root, 'usr/lib/out-of-clamps/resources')).sort()).toEqual(['app.asar', 'app.asar.unpacked'])
  })

  test('takes an order in a real window, and has it when it is opened again', { timeout: patience }, async () => {
    const folder = await aFolder()
    const first = await openPackaged(folder)
    const { keyboard } = first.page
    await keyboard.press('n')
    await first.page.locator('#order-line:focus').waitFor()
    await keyboard.type('1 end grain board 12x15 walnut/maple, oil')
    await keyboard.press('Enter')
    await first.page.locator('[id="customer.name"]:focus').waitFor()
    await keyboard.type('Ada Quist')
    await keyboard.press('Tab')
    await keyboard.type('555-0123')
    await first.page.getByText('You can promise').waitFor()
    await first.page.getByRole('button', { name: /^Take the order/ }).click()
    await expect.poll(() => openOrders(first.page)).toEqual(['Ada Quist'])
    await first.close()
    const second = await openPackaged(folder)
    await expect.poll(() => openOrders(second.page)).toEqual(['Ada Quist'])
    await second.close()
  })

  test('opens the file of an earlier version, with a copy of it from before', { timeout: patience }, async () => {
    const folder = await aFolder()
    await anEarlierFile(join(folder, 'shop.sqlite'))
    const { page, close } = await openPackaged(folder)
    await expect.poll(() => openOrders(page)).toEqual(['Odile Marsh'])
    expect(readdirSync(join(folder, 'backups')).some((name) => name.includes('upgrade'))).toBe(true)
    await close()
  })
})

const openOrders = async (page: Page): Promise<string[]> => {
  const reply = await deskOf(page).orderBook()
  return reply.ok ? reply.value.open.map(({ customer }) => customer) : reply.problems.map(({ message }) => message)
}

/** A file as the version with the first nine migrations left it. */
async function anEarlierFile(path: string): Promise<void> {
  const known = Object.entries(migrations).slice(0, 9)
  for (let count = 1; count <= known.length; count++) {
    const opened = await openShopFile(path, {
      clockMs: Date.now,
      migrations: Object.fromEntries(known.slice(0, count)),
    })
    if (!opened.ok) throw new Error(opened.problems[0]?.message)
    await fillAsVersion(opened.value.db as unknown as Kysely<unknown>, known[count - 1]?.[0] ?? '')
    await opened.value.close()
  }
}

async function aFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'out-of-clamps-data-'))
  onTestFinished(() => rm(folder, { recursive: true, force: true, maxRetries: 5 }))
  return folder
}

/** Driven over the pages' own port: the program takes no inspector. */
async function openPackaged(dataFolder: string): Promise<{ readonly page: Page; close(): Promise<void> }> {
  const shell = inject('shell')
  const env = shell.kind === 'window' ? { ...process.env, ...shell.env } : process.env
  const child = spawn(
    program(),
    [
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--remote-debugging-port=0',
      `--data=${dataFolder}`,
      '--tray=never',
    ],
    { env: { ...env, ELECTRON_RUN_AS_NODE: '' }, stdio: ['ignore', 'ignore', 'pipe'] },
  )
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  onTestFinished(() => void child.kill('SIGKILL'))
  const address = await new Promise<string>((resolve, reject) => {
    let heard = ''
    child.stderr.on('data', (part: Buffer) => {
      heard += part.toString()
      const said = /DevTools listening on (ws:\S+)/.exec(heard)?.[1]
      if (said !== undefined) resolve(said)
    })
    child.once('exit', (code) => reject(new Error(`The program ended with ${code}: ${heard}`)))
  })
  // Whoever connects while the window opens waits, now and then, for ever: so not before the page stands.
  const pages = new URL('/json/list', address.replace(/^ws/, 'http'))
  const titles = async (): Promise<string[]> =>
    ((await (await fetch(pages)).json()) as { readonly title: string }[]).map(({ title }) => title)
  await expect.poll(titles, { timeout: 120_000 }).toEqual([expect.stringMatching(/^Bench /)])
  const browser = await chromium.connectOverCDP(address)
  const [context] = browser.contexts()
  context?.setDefaultTimeout(PATIENCE_MS)
  const page = context?.pages()[0] ?? (await context!.waitForEvent('page'))
  await page.getByRole('navigation', { name: 'Screens' }).waitFor()
  return {
    page,
    async close() {
      await browser.close()
      child.kill('SIGTERM')
      await ended
    },
  }
}
