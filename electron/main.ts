import { join } from 'node:path'
import { app, dialog, type BrowserWindow } from 'electron'
import type { Problem } from '../core/problems.ts'
import type { Desk } from '../desk/desk.ts'
import { openDesk } from '../desk/open-desk.ts'
import { bridgeToDesk } from './bridge.ts'
import { closeDoors } from './closed-doors.ts'
import { demoFolder } from './data-folder.ts'
import { setMenu } from './menu.ts'
import { showNotices } from './notices.ts'
import { pageOrigin } from './page-origin.ts'
import { announcePageScheme, servePages } from './page-protocol.ts'
import { readStartOptions, startClock, type StartOptions } from './start-options.ts'
import { hasTray, putInTray } from './tray.ts'
import { recallWindow, rememberWindow } from './window-memory.ts'
import { makeWindow, openScreen, showWindow } from './window.ts'

const pagesFolder = join(import.meta.dirname, '../renderer')
const icon = join(pagesFolder, 'icon.png')
const origin = pageOrigin(app.isPackaged, process.env)

// As root there is no sandbox to be had, and asking for it would end the start.
if (!app.commandLine.hasSwitch('no-sandbox')) app.enableSandbox()
announcePageScheme()

// Among the app's own arguments are its folder, before it is packaged, and Chromium's switches.
const options = readStartOptions(process.argv.slice(1), 'others ignored')
if (options.ok) start(options.value)
else endWith(options.problems)

function start({ demo, dataFolder: given, tray }: StartOptions): void {
  const dataFolder = given ?? (demo ? demoFolder(app.getPath('userData')) : app.getPath('userData'))
  // One instance a data folder: Electron asks for that by this path. Chromium's own files stay apart from the shop's.
  app.setPath('userData', dataFolder)
  app.setPath('sessionData', join(dataFolder, 'window'))
  if (!app.requestSingleInstanceLock()) return app.quit()

  app
    .whenReady()
    .then(async () => {
      const desk = await openDesk({
        dataFolder,
        demo,
        where: 'the window',
        ...startClock(app.isPackaged ? {} : process.env),
      })
      if (!desk.ok) return endWith(desk.problems)
      closeAtTheEnd(desk.value)
      openShop(desk.value, dataFolder, tray === 'always' || (tray === 'auto' && (await hasTray())))
    })
    .catch((fault: unknown) => {
      console.error(fault)
      app.exit(1)
    })
}

function openShop(desk: Desk, dataFolder: string, trayThere: boolean): void {
  closeDoors(origin)
  servePages(pagesFolder)
  setMenu()

  let memory = recallWindow(dataFolder)
  const window = makeWindow(icon, memory)
  bridgeToDesk(desk, window, origin)
  showNotices(desk, icon, (hash) => openScreen(window, hash))
  app.on('second-instance', () => showWindow(window))
  app.on('activate', () => showWindow(window))

  let quitting = false
  app.on('before-quit', () => {
    quitting = true
  })
  window.on('close', (event) => {
    memory = { ...memory, bounds: window.getNormalBounds(), maximized: window.isMaximized() }
    rememberWindow(dataFolder, memory)
    if (quitting || !trayThere || !memory.staysInTray) return
    event.preventDefault()
    window.hide()
  })
  app.on('window-all-closed', () => app.quit())
  if (trayThere) keepTray(window)

  window.once('ready-to-show', () => {
    if (memory.maximized) window.maximize()
    window.show()
  })
  window.loadURL(`${origin}/`).catch((error: unknown) => console.error('The page was not loaded:', error))

  function keepTray(window: BrowserWindow): void {
    const tray = putInTray(icon, {
      show: () => showWindow(window),
      quit: () => app.quit(),
      staysInTray: memory.staysInTray,
      setStaysInTray(staysInTray) {
        memory = { ...memory, staysInTray }
        rememberWindow(dataFolder, memory)
        // Nobody would find the way back to a hidden window once the app is told to leave with it.
        if (!staysInTray) showWindow(window)
      },
    })
    app.on('will-quit', () => tray.destroy())
  }
}

function closeAtTheEnd(desk: Desk): void {
  let closed = false
  app.on('will-quit', (event) => {
    if (closed) return
    event.preventDefault()
    void desk.close().finally(() => {
      closed = true
      // Not before this event is over: until then Electron takes itself to be quitting and ignores the call.
      setImmediate(() => app.quit())
    })
  })
}

function endWith(problems: readonly Problem[]): void {
  const sentences = problems.map((problem) => problem.message).join('\n')
  console.error(sentences)
  void app
    .whenReady()
    .then(() => dialog.showMessageBox({ type: 'error', title: 'Out of Clamps', message: sentences, buttons: ['Quit'] }))
    .finally(() => app.exit(1))
}
