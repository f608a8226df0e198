import { join } from 'node:path'
import { app, BrowserWindow, dialog, nativeTheme, screen } from 'electron'
import { isWithinReach, type WindowMemory } from './window-memory.ts'

/** Makes the app's one window, still hidden and empty. */
export function makeWindow(icon: string, { bounds }: WindowMemory, devTools: boolean): BrowserWindow {
  const screens = screen.getAllDisplays().map((display) => display.workArea)
  return new BrowserWindow({
    ...(bounds !== undefined && isWithinReach(bounds, screens) ? bounds : { width: 1280, height: 800 }),
    minWidth: 480,
    minHeight: 480,
    show: false,
    title: 'Out of Clamps',
    icon,
    autoHideMenuBar: true,
    backgroundColor: nativeTheme.shouldUseDarkColors ? '#1b1a18' : '#faf8f4',
    webPreferences: {
      preload: join(import.meta.dirname, '../preload/preload.cjs'),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      devTools,
      spellcheck: false,
    },
  })
}

/** How long a page that is loaded may take to be drawn. */
const DRAWN_MS = 2_000

/**
 * When the window may be shown without being empty. Where the graphics process had to be begun anew a hidden window may never
 * be told that it was drawn: it is shown all the same.
 */
export function drawn(window: BrowserWindow): Promise<void> {
  return new Promise((resolve) => {
    window.once('ready-to-show', () => resolve())
    window.webContents.once('did-finish-load', () => setTimeout(resolve, DRAWN_MS))
    window.webContents.once('did-fail-load', () => resolve())
  })
}

/** Brings the window to the front from wherever it is: closed to the tray, minimised, behind others. */
export function showWindow(window: BrowserWindow): void {
  if (window.isMinimized()) window.restore()
  window.show()
  window.focus()
}

/** More often than this within a minute the page would only end again. */
const MOST_REOPENINGS = 3

/**
 * Loads the page anew when its process has died, at the screen where it was. What was typed is kept with every keystroke: an
 * order and a construction by the desk, which lives elsewhere, short forms by the window itself, in memory.
 */
export function openAgainWhenGone(window: BrowserWindow): void {
  const at: number[] = []
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    const now = performance.now()
    at.push(now)
    console.error(`The page's process ended (${reason}).`)
    if (reason === 'clean-exit') return
    if (at.filter((each) => now - each < 60_000).length <= MOST_REOPENINGS) window.webContents.reload()
    else void openAgainIfWanted(window)
  })
}

/** Instead of an empty window that says nothing. */
async function openAgainIfWanted(window: BrowserWindow): Promise<void> {
  const { response } = await dialog.showMessageBox(window, {
    ...{ type: 'error', title: 'Out of Clamps', buttons: ['Open it again', 'Quit'] },
    message: 'This window broke several times within a minute. Your order book is safe.',
  })
  if (response === 1) app.quit()
  else if (!window.isDestroyed()) window.webContents.reload()
}

/** Shows a screen of the app by its hash address, as if the maker had gone there. */
export function openScreen(window: BrowserWindow, hash: string): void {
  showWindow(window)
  if (/^#\/[\w/-]*$/.test(hash)) window.webContents.send('open-screen', hash)
}
