import { once } from 'node:events'
import { lstatSync, readFileSync } from 'node:fs'
import { readdir, readFile, writeFile } from 'node:fs/promises'
import { homedir } from 'node:os'
import { join } from 'node:path'
import type { ElectronApplication } from 'playwright-core'
import { describe, expect } from 'vitest'
import { demoFolder, userDataFolder } from '../../electron/data-folder.ts'
import { newestDraft, takeSmallOrder } from '../app/support/small-order.ts'
import { startElectron, test } from '../support/app.ts'
import { startBrowserMode } from '../support/browser-mode.ts'

/** Closes the window once it is there to be closed: its page is loaded before it is shown. */
async function closeWindow(electron: ElectronApplication): Promise<void> {
  await expect.poll(() => isShown(electron)).toBe(true)
  await electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows()[0]?.close())
}

const isShown = (electron: ElectronApplication): Promise<boolean | undefined> =>
  electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows()[0]?.isVisible())

/** Ends the page's process, and waits until it has. */
const crash = (electron: ElectronApplication): Promise<void> =>
  electron.evaluate(({ BrowserWindow }) => {
    const { webContents } = BrowserWindow.getAllWindows()[0]!
    const died = new Promise<void>((resolve) => webContents.once('render-process-gone', () => resolve()))
    webContents.forcefullyCrashRenderer()
    return died
  })

/** What code comes to in the page, which the driver no longer follows once its process has died; null while there is none. */
const inPage = (electron: ElectronApplication, code: string): Promise<unknown> =>
  electron.evaluate(async ({ BrowserWindow }, code) => {
    const { webContents } = BrowserWindow.getAllWindows()[0]!
    if (webContents.isCrashed() || webContents.isLoading()) return null
    return (await webContents.executeJavaScript(code)) as unknown
  }, code)

const ended = (electron: ElectronApplication): Promise<number | null> =>
  once(electron.process(), 'exit').then(([code]) => code as number | null)

describe('closing the window', () => {
  test('ends the app where there is no tray to find it in again', async ({ openWindow }) => {
    const { electron } = await openWindow({ tray: 'never' })
    const end = ended(electron)
    await closeWindow(electron).catch(() => undefined)
    expect(await end).toBe(0)
  })

  test('leaves the app in the tray where there is one, and shows it again from there', async ({ openWindow }) => {
    const { electron, desk } = await openWindow({ tray: 'always' })
    await closeWindow(electron)
    await expect.poll(() => isShown(electron)).toBe(false)
    expect(await desk.shopState()).toMatchObject({ ok: true })
    await electron.evaluate(({ app }) => app.emit('activate'))
    await expect.poll(() => isShown(electron)).toBe(true)
  })

  test('ends the app in spite of a tray when the maker has said so', async ({ openWindow, dataFolder }) => {
    await writeFile(join(dataFolder, 'window.json'), JSON.stringify({ staysInTray: false }))
    const { electron } = await openWindow({ tray: 'always' })
    const end = ended(electron)
    await closeWindow(electron).catch(() => undefined)
    expect(await end).toBe(0)
  })

  test('is not in the way of quitting from the tray', async ({ openWindow }) => {
    const { electron } = await openWindow({ tray: 'always' })
    const end = ended(electron)
    await electron.evaluate(({ app }) => app.quit()).catch(() => undefined)
    expect(await end).toBe(0)
  })
})

test.runIf(process.platform !== 'win32')(
  'nothing of the window or the desk could be read by others, whatever the computer allows new files',
  async ({ openWindow, dataFolder }) => {
    const shop = join(dataFolder, 'shop')
    const before = process.umask(0)
    const app = await openWindow({ dataFolder: shop }).finally(() => process.umask(before))
    await app.close()
    const open = ['.', ...(await readdir(shop, { recursive: true }))].map((name) => {
      const state = lstatSync(join(shop, name))
      // A link is as open as what it leads to.
      return { name, mode: state.isSymbolicLink() ? 0 : state.mode & 0o777 }
    })
    expect(open.map(({ name }) => name)).toEqual(expect.arrayContaining(['shop.sqlite', 'window.json', 'window']))
    expect(open.filter(({ mode }) => (mode & 0o077) !== 0).map(({ name, mode }) => [name, mode.toString(8)])).toEqual(
      [],
    )
  },
)

test('who starts the app again while it still closes is not left with nothing: it begins anew', async ({
  openWindow,
  dataFolder,
}) => {
  const { electron } = await openWindow({ tray: 'never' })
  const end = ended(electron)
  const began = join(dataFolder, 'began-anew')
  await electron
    .evaluate(({ app }, file) => {
      // A second one under the test would not end with it: what it would begin by is noted instead.
      app.relaunch = () => process.getBuiltinModule('node:fs').appendFileSync(file, 'once ')
      app.once('will-quit', () => {
        for (let time = 0; time < 2; time++) app.emit('second-instance', {}, [])
      })
      app.quit()
    }, began)
    .catch(() => undefined)
  expect(await end).toBe(0)
  expect(await readFile(began, 'utf8')).toBe('once ')
})

describe('a notice', () => {
  const notice = {
    id: 'n1',
    title: 'Out of clamps',
    body: 'The walnut panel may come out of the clamps.',
    opens: '#/rack',
  }

  test('is shown on the desktop while the window is closed to the tray; a click opens its screen', async ({
    openWindow,
  }) => {
    const { electron, desk, page } = await openWindow({ tray: 'always' })
    // Whether a desktop draws the notification is not the app's doing: what it asks for is noted instead.
    await electron.evaluate(({ Notification }) => {
      const shown: Electron.Notification[] = ((globalThis as unknown as { shown: unknown }).shown = [])
      Notification.isSupported = () => true
      Notification.prototype.show = function () {
        shown.push(this)
      }
    })
    // A window that is not there yet cannot be closed: it would be shown afterwards.
    await expect.poll(() => isShown(electron)).toBe(true)
    await closeWindow(electron)
    await expect.poll(() => isShown(electron)).toBe(false)

    await desk.testNotice(notice)
    const shown = () =>
      electron.evaluate(() =>
        (globalThis as unknown as { shown: Electron.Notification[] }).shown.map(({ title, body }) => ({ title, body })),
      )
    await expect.poll(shown).toEqual([{ title: notice.title, body: notice.body }])

    await electron.evaluate(() => (globalThis as unknown as { shown: Electron.Notification[] }).shown[0]?.emit('click'))
    await expect.poll(() => isShown(electron)).toBe(true)
    await expect.poll(() => page.url()).toMatch(/#\/rack$/)
  })
})

test('a code that macOS hands over is opened by the window that is there', async ({ openWindow }) => {
  const { electron, page } = await openWindow({ tray: 'never' })
  await expect.poll(() => isShown(electron)).toBe(true)
  await electron.evaluate(({ app }) => app.emit('open-url', { preventDefault: () => undefined }, 'out-of-clamps:12/1'))
  await page.getByRole('heading', { name: 'No such order' }).waitFor()
})

const boundsOf = (electron: ElectronApplication) =>
  electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows()[0]?.getBounds())

describe('the window', () => {
  test('opens its page anew when the process of the page dies', async ({ openWindow }) => {
    const { electron, complaints } = await openWindow({ tray: 'never' })
    const heading = () => inPage(electron, `document.querySelector('nav') !== null`)
    await expect.poll(heading).toBe(true)
    await crash(electron)
    await expect.poll(heading).toBe(true)
    complaints.splice(0)
  })

  test('has a short form of the Almanac open again, with what was typed, when the process of the page dies', async ({
    openWindow,
  }) => {
    const { electron, page, complaints } = await openWindow({ tray: 'never' })
    await page.getByRole('navigation', { name: 'Screens' }).waitFor()
    await page.evaluate(() => (location.hash = '#/almanac'))
    await page.getByRole('button', { name: 'Stations' }).click()
    await page.getByRole('button', { name: 'Add a station' }).click()
    await page.getByLabel('Name', { exact: true }).fill('Long clamps')
    await crash(electron)
    await expect
      .poll(() => inPage(electron, `[...document.querySelectorAll('form input')].map(({ value }) => value)[0]`))
      .toBe('Long clamps')
    complaints.splice(0)
  })

  test('leaves nothing in its files of what was typed in a short form', async ({ openWindow, dataFolder }) => {
    const app = await openWindow({ tray: 'never' })
    const { page } = app
    await page.getByRole('navigation', { name: 'Screens' }).waitFor()
    const id = await takeSmallOrder(app)
    await page.evaluate((address) => (location.hash = address), `#/commission/${id}`)
    await page.getByRole('button', { name: 'Change promise, money, notes' }).click()
    await page.getByLabel('Allergies').fill('Zanzibarquince')
    await page.reload()
    await expect.poll(() => page.getByLabel('Allergies').inputValue()).toBe('Zanzibarquince')
    await app.close()
    const files = (await readdir(dataFolder, { recursive: true, withFileTypes: true })).filter((each) => each.isFile())
    expect(files.length).toBeGreaterThan(10)
    const has = ['utf8', 'utf16le'] as const
    const holding = files.filter(({ parentPath, name }) => {
      const bytes = readFileSync(join(parentPath, name))
      return has.some((encoding) => bytes.includes(Buffer.from('Zanzibarquince', encoding)))
    })
    expect(holding.map(({ name }) => name)).toEqual([])
  })

  test('has what was typed again, and goes on, when the process of the page dies in the middle of an order', async ({
    openWindow,
  }) => {
    const { electron, page, desk, complaints } = await openWindow({ tray: 'never' })
    await page.getByRole('navigation', { name: 'Screens' }).waitFor()
    await page.evaluate(() => (location.hash = '#/new-order'))
    await page.getByLabel('Name', { exact: true }).fill('Odile Brandt')
    await page.getByLabel('Phone or email').pressSequentially('555-01')
    await expect.poll(async () => (await newestDraft(desk))?.customer.reach).toBe('555-01')
    await crash(electron)
    const typed = `['customer.name', 'customer.reach'].map((id) => document.getElementById(id)?.value)`
    await expect.poll(() => inPage(electron, typed)).toEqual(['Odile Brandt', '555-01'])
    await expect.poll(() => inPage(electron, 'location.hash')).toBe('#/new-order')
    complaints.splice(0)

    // Again and again within a minute, however long this machine takes for it: it asks instead of leaving an empty window.
    await electron.evaluate(({ dialog }) => {
      const now = performance.now()
      performance.now = () => now
      Object.assign(globalThis, { asked: [] })
      dialog.showMessageBox = ((_: unknown, { message }: { message: string }) => {
        ;(globalThis as unknown as { asked: string[] }).asked.push(message)
        return Promise.resolve({ response: 0, checkboxChecked: false })
      }) as typeof dialog.showMessageBox
    })
    for (let time = 0; time < 3; time++) {
      await crash(electron)
      await expect.poll(() => inPage(electron, 'location.hash')).toBe('#/new-order')
    }
    const asked = await electron.evaluate(() => (globalThis as unknown as { asked: string[] }).asked)
    expect(asked).toEqual(['This window broke several times within a minute. Your order book is safe.'])
    complaints.splice(0)
  })

  test('asks for no dictionaries: the spell checker would fetch them from the network', async ({ openWindow }) => {
    const { electron } = await openWindow({ tray: 'never' })
    expect(await electron.evaluate(({ session }) => session.defaultSession.isSpellCheckerEnabled())).toBe(false)
  })

  test('comes back where it was', async ({ openWindow, dataFolder }) => {
    const first = await openWindow({ tray: 'never' })
    await expect.poll(() => isShown(first.electron)).toBe(true)
    const bounds = { x: 120, y: 90, width: 1000, height: 700 }
    await first.electron.evaluate(
      ({ BrowserWindow }, bounds) => BrowserWindow.getAllWindows()[0]?.setBounds(bounds),
      bounds,
    )
    // The window system answers in its own time, also with a place from before: what counts is where the window was at its end.
    await expect.poll(() => boundsOf(first.electron)).toEqual(bounds)
    const note = join(dataFolder, 'where-it-was.json')
    await first.electron.evaluate(({ BrowserWindow }, note) => {
      const window = BrowserWindow.getAllWindows()[0]!
      const { writeFileSync } = process.getBuiltinModule('node:fs')
      window.once('close', () => writeFileSync(note, JSON.stringify(window.getNormalBounds())))
    }, note)
    await first.close()
    const last = JSON.parse(await readFile(note, 'utf8')) as typeof bounds
    expect(JSON.parse(await readFile(join(dataFolder, 'window.json'), 'utf8'))).toMatchObject({ bounds: last })

    const second = await openWindow({ tray: 'never' })
    await expect.poll(() => boundsOf(second.electron)).toEqual(last)
  })

  test('of a shop that is open already comes to the front instead of opening twice', async ({
    openWindow,
    dataFolder,
  }) => {
    const { electron } = await openWindow({ tray: 'always' })
    await closeWindow(electron)
    await expect.poll(() => isShown(electron)).toBe(false)

    const second = startElectron(dataFolder)
    expect(await once(second, 'exit')).toEqual([0, null])
    await expect.poll(() => isShown(electron)).toBe(true)
  })

  test('of a shop that a browser has open stays closed and says so', async ({ dataFolder }) => {
    const browserMode = await startBrowserMode({ dataFolder })
    const window = startElectron(dataFolder)
    let said = ''
    window.stderr.on('data', (part: Buffer) => (said += part.toString()))
    await expect.poll(() => said).toMatch(/already open in the browser/)
    // The same sentence stands in a box that waits for somebody to read it.
    window.kill('SIGKILL')
    await once(window, 'exit')
    expect(await browserMode.stop()).toBe(0)
  })

  test('of the demo shop opens beside that of the real one', async ({ openWindow, dataFolder }) => {
    await openWindow({ dataFolder })
    const demo = await openWindow({ dataFolder: demoFolder(dataFolder), demo: true })
    expect(await demo.desk.shopState()).toMatchObject({ ok: true, value: { demo: true } })
  })

  test('keeps the shop where browser mode looks for it too', async ({ openWindow }) => {
    const { electron } = await openWindow()
    const folders = await electron.evaluate(({ app }) => ({ parent: app.getPath('appData'), name: app.getName() }))
    const expected = userDataFolder({ platform: process.platform, home: homedir(), env: process.env })
    expect(join(folders.parent, folders.name)).toBe(expected)
  })

  test('keeps its own files in a folder apart from the shop’s', async ({ openWindow, dataFolder }) => {
    const { electron } = await openWindow()
    const folders = await electron.evaluate(({ app }) => [app.getPath('userData'), app.getPath('sessionData')])
    expect(folders).toEqual([dataFolder, join(dataFolder, 'window')])
  })
})
