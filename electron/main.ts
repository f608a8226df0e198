import { join } from 'node:path'
import { app, dialog, type BrowserWindow } from 'electron'
import type { Problem } from '../core/problems.ts'
import { bridgeToDesk } from './bridge.ts'
import { closeDoors } from './closed-doors.ts'
import { codesHandedOver, screenOfCode } from './code-opened.ts'
import { demoFolder } from './data-folder.ts'
import { openDeskElsewhere, type DeskElsewhere } from './desk-elsewhere.ts'
import { doInstallerTask, installerTask } from './installed-on-windows.ts'
import { setMenu } from './menu.ts'
import { showNotices } from './notices.ts'
import { isDevelopment, pageOrigin } from './page-origin.ts'
import { announcePageScheme, servePages } from './page-protocol.ts'
import { readStartOptions, testClockStart, type StartOptions } from './start-options.ts'
import { hasTray, putInTray } from './tray.ts'
import { recallWindow, rememberWindow } from './window-memory.ts'
import { drawn, makeWindow, openAgainWhenGone, openScreen, showWindow } from './window.ts'

const pagesFolder = join(import.meta.dirname, '../renderer')
const icon = join(pagesFolder, 'icon.png')
const development = isDevelopment(app.isPackaged, process.env)
const origin = pageOrigin(development, process.env)
// Whatever the app writes is for this user alone.
process.umask(0o077)

// As root there is no sandbox to be had, and asking for it would end the start.
if (!app.commandLine.hasSwitch('no-sandbox')) app.enableSandbox()
announcePageScheme()
// Before the app is ready: macOS tells the code that it was started with at once.
const codes = codesHandedOver(app)

// Among the app's own arguments are its folder, before it is packaged, and Chromium's switches.
const options = readStartOptions(process.argv.slice(1), 'others ignored')
const task = installerTask(process.platform, process.argv.slice(1))
if (task !== null) doInstallerTask(task, app, process.execPath)
else if (options.ok) start(options.value)
else endWith(options.problems)

function start({ demo, dataFolder: given, tray }: StartOptions): void {
  const dataFolder = given ?? (demo ? demoFolder(app.getPath('userData')) : app.getPath('userData'))
  // One instance a data folder: Electron asks for that by this path. Chromium's own files stay apart from the shop's.
  app.setPath('userData', dataFolder)
  app.setPath('sessionData', join(dataFolder, 'window'))
  if (!app.requestSingleInstanceLock()) return app.quit()

  app
    .whenReady()
    .then(() => {
      const testStartMs = app.isPackaged ? null : testClockStart(process.env)
      // Window and desk open side by side: what the page asks meanwhile waits in the desk's process.
      const desk = openDeskElsewhere({ dataFolder, demo, where: 'the window', testStartMs })
      closeAtTheEnd(desk)
      desk.onBroke((why) => void startAgainOrQuit(why))
      openShop(desk, dataFolder, tray)
    })
    .catch((fault: unknown) => {
      console.error(fault)
      app.exit(1)
    })
}

function openShop(desk: DeskElsewhere, dataFolder: string, trayWanted: StartOptions['tray']): void {
  closeDoors(origin)
  servePages(pagesFolder)
  setMenu()

  let memory = recallWindow(dataFolder)
  const window = makeWindow(icon, memory, development)
  bridgeToDesk(desk, window, origin)
  showNotices(desk, icon, (hash) => openScreen(window, hash))
  const openCode = (args: readonly string[]): void => {
    const hash = screenOfCode(args)
    if (hash === null) showWindow(window)
    else openScreen(window, hash)
  }
  app.on('second-instance', (_event, args) => {
    if (!window.isDestroyed()) openCode(args)
  })
  const atStart = codes((code) => {
    if (!window.isDestroyed()) openCode([code])
  })
  app.on('activate', () => showWindow(window))

  let trayThere = trayWanted === 'always'
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

  let refused = false
  // The frame stands while the order book still opens.
  const shown = drawn(window).then(() => {
    if (quitting || refused || window.isDestroyed()) return
    if (memory.maximized) window.maximize()
    window.show()
  })
  void desk.opened.then(async (opened) => {
    if (!opened.ok) {
      // What cannot be opened is told by a box, with no empty window behind it.
      refused = true
      window.hide()
      return endWith(opened.problems)
    }
    await shown
    if (quitting || window.isDestroyed()) return
    trayThere ||= trayWanted === 'auto' && (await hasTray())
    if (trayThere && !window.isDestroyed()) keepTray(window)
  })
  openAgainWhenGone(window)
  const first = screenOfCode([...process.argv.slice(1), ...atStart]) ?? ''
  window.loadURL(`${origin}/${first}`).catch((error: unknown) => console.error('The page was not loaded:', error))

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

/** However the app is told to end, also while the desk still opens: the desk is closed first. */
function closeAtTheEnd(desk: DeskElsewhere): void {
  let state: 'going' | 'ending' | 'closed' = 'going'
  // Who starts the app again meanwhile is not left with nothing: it begins anew once its files are free.
  let isWantedAgain = false
  app.on('second-instance', () => {
    if (state === 'ending') isWantedAgain = true
  })
  app.on('will-quit', (event) => {
    if (state === 'closed') {
      if (isWantedAgain) app.relaunch()
      return
    }
    event.preventDefault()
    if (state === 'ending') return
    state = 'ending'
    void desk.close().finally(() => {
      state = 'closed'
      // Not before this event is over: until then Electron takes itself to be quitting and ignores the call.
      setImmediate(() => app.quit())
    })
  })
}

/** Without its desk the app can only say so: the box stands in front of whatever else is open, or of nothing. */
async function startAgainOrQuit({ message }: Problem): Promise<void> {
  console.error(message)
  const buttons = ['Start again', 'Quit']
  const { response } = await dialog.showMessageBox({ type: 'error', title: 'Out of Clamps', message, buttons })
  if (response === 0) app.relaunch()
  app.quit()
}

function endWith(problems: readonly Problem[]): void {
  const sentences = problems.map((problem) => problem.message).join('\n')
  console.error(sentences)
  void app
    .whenReady()
    .then(() => dialog.showMessageBox({ type: 'error', title: 'Out of Clamps', message: sentences, buttons: ['Quit'] }))
    .finally(() => app.exit(1))
}
