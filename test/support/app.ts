import { spawn, type ChildProcessWithoutNullStreams, type SpawnOptionsWithoutStdio } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type Browser, type ElectronApplication, type Page } from 'playwright-core'
import { test as plainTest, expect, inject } from 'vitest'
import { sandboxSwitch } from '../../commands/electron.ts'
import type { Client } from '../../desk/procedure.ts'
import type { TestProcedures } from '../../desk/procedures.ts'
import { startArguments, startBrowserMode, startEnvironment, type StartOptions } from './browser-mode.ts'
import { deskOf } from './desk-of-page.ts'
import { launchHeldBack } from './launch-held-back.ts'
import { PATIENCE_MS } from './patience.ts'
import './provided.ts'
import { followCalls, sayWhatPagesShowed } from './what-page-showed.ts'

export interface OpenOptions extends Partial<StartOptions> {
  /** Whether closing the window leaves the app in the tray; only the window has one. */
  readonly tray?: 'always' | 'never'
}

/** The app, opened as a maker does. */
export interface OpenApp {
  readonly page: Page
  readonly dataFolder: string
  /** The desk, asked from within the page, by the same way as the page itself asks. */
  readonly desk: Client<TestProcedures>
  /**
   * What the page complained of: errors on its console (a breach of the content policy is one) and faults. A test fails
   * when anything is left in here at its end; one that provokes a complaint takes it out.
   */
  readonly complaints: string[]
  /** Closes the app in good order. Done by itself at the end of the test. */
  close(): Promise<void>
}

export interface OpenWindow extends OpenApp {
  readonly electron: ElectronApplication
}

interface Fixtures {
  readonly browser: Browser | undefined
  readonly appOfFile: OpenApp
  /** One app for all tests of a file that need no more than a fresh page: quicker than opening it for each. */
  readonly app: OpenApp
  /** The same where the test is about the window itself. */
  readonly window: OpenWindow
  /** An empty data folder of this test alone, removed afterwards. */
  readonly dataFolder: string
  /** Opens the app in the shell that the project tests, in a fresh data folder unless told otherwise. */
  readonly openApp: (options?: OpenOptions) => Promise<OpenApp>
  /** The same where the test is about the window itself. */
  readonly openWindow: (options?: OpenOptions) => Promise<OpenWindow>
}

const projectFolder = join(import.meta.dirname, '../..')

/** vitest's `test` with what is needed to drive the app. */
export const test = plainTest.extend<Fixtures>({
  browser: [
    // vitest reads from the pattern which other fixtures one needs.
    async ({}, use) => {
      const shell = inject('shell')
      const browser = shell.kind === 'browser' ? await chromium.launch(shell.launch as object) : undefined
      await use(browser)
      await browser?.close()
    },
    { scope: 'file' },
  ],

  appOfFile: [
    async ({ browser }, use) => {
      const dataFolder = await makeFolder()
      const app = await open(browser, { dataFolder })
      await use(app)
      await app.close()
      await removeFolder(dataFolder)
    },
    { scope: 'file' },
  ],

  app: async ({ appOfFile, task }, use) => {
    await appOfFile.page.goto(appOfFile.page.url().replace(/#.*$/, ''))
    appOfFile.complaints.splice(0)
    await use(appOfFile)
    await sayWhatPagesShowed(task, appOfFile.page, appOfFile.complaints)
    expect(appOfFile.complaints, 'complaints of the page').toEqual([])
  },

  window: async ({ app }, use) => {
    await use(app as OpenWindow)
  },

  dataFolder: async ({}, use) => {
    const folder = await makeFolder()
    await use(folder)
    await removeFolder(folder)
  },

  openApp: async ({ browser, dataFolder, task }, use) => {
    const opened: OpenApp[] = []
    await use(async (options = {}) => {
      const app = await open(browser, { ...options, dataFolder: options.dataFolder ?? dataFolder })
      opened.push(app)
      return app
    })
    for (const app of opened) await sayWhatPagesShowed(task, app.page, app.complaints)
    for (const app of opened) await app.close()
    for (const app of opened) expect(app.complaints, 'complaints of the page').toEqual([])
  },

  openWindow: async ({ openApp }, use) => {
    await use(async (options) => (await openApp(options)) as OpenWindow)
  },
})

const makeFolder = (): Promise<string> => mkdtemp(join(tmpdir(), 'out-of-clamps-test-'))

const removeFolder = (folder: string): Promise<void> => rm(folder, { recursive: true, force: true, maxRetries: 5 })

const open = (browser: Browser | undefined, options: StartOptions & OpenOptions): Promise<OpenApp> =>
  browser === undefined ? openInWindow(options) : openInBrowser(browser, options)

async function openInBrowser(browser: Browser, options: StartOptions): Promise<OpenApp> {
  const program = await startBrowserMode(options)
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' })
  context.setDefaultTimeout(PATIENCE_MS)
  const page = await context.newPage()
  const complaints = complaintsOf(page)
  followCalls(page)
  await page.goto(program.address)
  return {
    page,
    dataFolder: options.dataFolder,
    desk: deskOf(page),
    complaints,
    close: once(async () => {
      await context.close()
      await program.stop()
    }),
  }
}

async function openInWindow(options: StartOptions & OpenOptions): Promise<OpenWindow> {
  const electron = await launchElectron(options)
  electron.context().setDefaultTimeout(PATIENCE_MS)
  const page = await electron.firstWindow()
  const complaints = complaintsOf(page)
  await page.waitForLoadState('load')
  return {
    page,
    electron,
    dataFolder: options.dataFolder,
    desk: deskOf(page),
    complaints,
    close: once(() => electron.close()),
  }
}

/** Starts the app's main process in the Electron of the tests. */
export function launchElectron(options: StartOptions & OpenOptions): Promise<ElectronApplication> {
  const shell = inject('shell')
  if (shell.kind !== 'window') throw new Error('Only the project "shell" opens windows.')
  const tray = options.tray === undefined ? [] : [`--tray=${options.tray}`]
  return launchHeldBack(shell.program, [projectFolder, ...startArguments(options), ...tray], {
    ...startEnvironment(options),
    ...shell.env,
  })
}

/** Starts the app without anything that drives it. */
export function startElectron(
  dataFolder: string,
  options: SpawnOptionsWithoutStdio = {},
): ChildProcessWithoutNullStreams {
  const shell = inject('shell')
  if (shell.kind !== 'window') throw new Error('Only the project "shell" opens windows.')
  const args = [...sandboxSwitch(), projectFolder, ...startArguments({ dataFolder })]
  return spawn(shell.program, args, { ...options, env: { ...process.env, ...shell.env } })
}

function complaintsOf(page: Page): string[] {
  const complaints: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  page.on('pageerror', (error) => complaints.push(String(error)))
  return complaints
}

function once(close: () => Promise<void>): () => Promise<void> {
  let closing: Promise<void> | undefined
  return () => (closing ??= close())
}
