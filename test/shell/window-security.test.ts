import { readFileSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect } from 'vitest'
import { test } from '../support/app.ts'

describe('the window', () => {
  let elsewhere = ''
  let asked: string[] = []
  const stranger: Server = createServer((request, response) => {
    asked.push(request.url ?? '')
    response.setHeader('content-type', 'text/html').end('<title>Elsewhere</title>')
  })
  beforeAll(async () => {
    await new Promise<void>((resolve) => stranger.listen(0, '127.0.0.1', resolve))
    elsewhere = `http://127.0.0.1:${(stranger.address() as AddressInfo).port}`
  })
  afterAll(() => void stranger.close())

  test('isolates the page, in the sandbox, without Node', async ({ window: { electron } }) => {
    const preferences = await electron.evaluate(({ BrowserWindow }) => {
      const { webContents } = BrowserWindow.getAllWindows()[0]!
      return (webContents as unknown as { getLastWebPreferences(): Electron.WebPreferences }).getLastWebPreferences()
    })
    expect(preferences).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
    })
  })

  test('runs the page under the sandbox of the system', async ({ window: { electron }, skip }) => {
    skip(process.platform !== 'linux', 'only Linux tells of it in /proc')
    skip(process.getuid?.() === 0, 'root has no sandbox')
    const pid = await electron.evaluate(({ BrowserWindow }) =>
      BrowserWindow.getAllWindows()[0]!.webContents.getOSProcessId(),
    )
    // 2: a seccomp filter is in force (proc(5)).
    expect(readFileSync(`/proc/${pid}/status`, 'utf8')).toMatch(/^Seccomp:\s+2$/m)
  })

  test('gives the page two functions and nothing else', async ({ window: { page } }) => {
    expect(await page.evaluate(() => Object.keys(window.outOfClamps ?? {}).sort())).toEqual(['call', 'onEvent'])
    // What the page does to them stays in the page.
    const changed = await page.evaluate(() => {
      try {
        ;(window as unknown as Record<string, unknown>)['outOfClamps'] = { call: () => 'mine' }
      } catch {
        return false
      }
      return window.outOfClamps?.call.toString().includes('mine')
    })
    expect(changed).toBe(false)
  })

  test('takes its pages from a scheme of its own, which holds the built files alone', async ({
    window: { page, complaints },
  }) => {
    expect(page.url()).toMatch(/^app:\/\/shop\//)
    const answers = await page.evaluate(() => {
      const status = (address: string): Promise<number | string> =>
        fetch(address).then(
          (response) => response.status,
          () => 'refused',
        )
      return Promise.all([
        status('app://shop/index.html'),
        status('/%2e%2e/main/index.js'),
        status('/..%2f..%2fpackage.json'),
        status('app://elsewhere/index.html'),
        status('file:///etc/hostname'),
      ])
    })
    expect(answers).toEqual([200, 404, 404, 'refused', 'refused'])
    complaints.splice(0)
  })

  test('sends the content policy with its page', async ({ window: { page } }) => {
    const policy = await page.evaluate(() =>
      fetch('/').then((response) => response.headers.get('content-security-policy')),
    )
    expect(policy).toContain("default-src 'none'; script-src 'self'; style-src 'self'")
    expect(policy).toContain("require-trusted-types-for 'script'")
  })

  test('answers no to every wish for a device or a permission', async ({ window: { page } }) => {
    const answers = await page.evaluate(async () => {
      const state = (name: string): Promise<string> =>
        navigator.permissions.query({ name: name as PermissionName }).then(({ state }) => state)
      const refused = (wish: Promise<unknown>): Promise<string> =>
        wish.then(
          () => 'granted',
          (error: unknown) => (error as Error).name,
        )
      return {
        notifications: await Notification.requestPermission(),
        place: await state('geolocation'),
        midi: await state('midi'),
        clipboard: await state('clipboard-read'),
        camera: await refused(navigator.mediaDevices.getUserMedia({ video: true })),
        screen: await refused(navigator.mediaDevices.getDisplayMedia()),
      }
    })
    expect(answers).toMatchObject({ notifications: 'denied', place: 'denied', midi: 'denied', clipboard: 'denied' })
    expect(answers.camera).not.toBe('granted')
    expect(answers.screen).not.toBe('granted')
  })

  test('cannot be led away from the app', async ({ window: { page, electron, complaints } }) => {
    asked = []
    for (const address of [elsewhere, 'file:///etc/hostname', 'app://elsewhere/']) {
      await page.evaluate((address) => {
        window.location.href = address
      }, address)
      await page.evaluate((address) => {
        const link = document.createElement('a')
        link.href = address
        document.body.append(link)
        link.click()
      }, address)
    }
    await new Promise((resolve) => setTimeout(resolve, 500))
    expect(page.url()).toMatch(/^app:\/\/shop\//)
    const shown = await electron.evaluate(({ BrowserWindow }) =>
      BrowserWindow.getAllWindows().map(({ webContents }) => webContents.getURL()),
    )
    expect(shown).toHaveLength(1)
    expect(shown[0]).toMatch(/^app:\/\/shop\//)
    expect(asked).toEqual([])
    complaints.splice(0)
  })

  test('opens no second window', async ({ window: { page, electron } }) => {
    asked = []
    const opened = await page.evaluate((elsewhere) => {
      const link = document.createElement('a')
      link.href = elsewhere
      link.target = '_blank'
      document.body.append(link)
      link.click()
      return [window.open(elsewhere), window.open('about:blank'), window.open('/')].map((window) => window !== null)
    }, elsewhere)
    expect(opened).toEqual([false, false, false])
    await new Promise((resolve) => setTimeout(resolve, 300))
    expect(await electron.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().length)).toBe(1)
    expect(asked).toEqual([])
  })

  test('embeds no other page, not even where webviews were switched on', async ({ window: { electron } }) => {
    asked = []
    const attached = await electron.evaluate(async ({ BrowserWindow }, elsewhere) => {
      const other = new BrowserWindow({ show: false, webPreferences: { webviewTag: true, sandbox: true } })
      let attached = false
      other.webContents.on('did-attach-webview', () => (attached = true))
      await other.loadURL(`data:text/html,<webview src="${elsewhere}/webview"></webview>`)
      await new Promise((resolve) => setTimeout(resolve, 500))
      other.destroy()
      return attached
    }, elsewhere)
    expect(attached).toBe(false)
    expect(asked).toEqual([])
  })

  test('answers calls of its own page alone', async ({ window: { electron, page } }) => {
    expect(await page.evaluate(() => window.outOfClamps?.call('shopState', {}))).toMatch(/^{"ok":true/)
    const preload = join(import.meta.dirname, '../../out/preload/preload.cjs')
    const answer = await electron.evaluate(async ({ BrowserWindow }, preload) => {
      const other = new BrowserWindow({ show: false, webPreferences: { preload, sandbox: true } })
      await other.loadURL('data:text/html,<title>Stranger</title>')
      const answer = (await other.webContents.executeJavaScript(
        "outOfClamps.call('shopState', {}).catch((error) => error.message)",
      )) as string
      other.destroy()
      return answer
    }, preload)
    expect(answer).toContain('Only the page of the app gets answers.')
  })
})
