import { join } from 'node:path'
import { app, BrowserWindow, nativeTheme, screen } from 'electron'
import { isWithinReach, type WindowMemory } from './window-memory.ts'

/** Makes the app's one window, still hidden and empty. */
export function makeWindow(icon: string, { bounds }: WindowMemory): BrowserWindow {
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
      devTools: !app.isPackaged,
    },
  })
}

/** Brings the window to the front from wherever it is: closed to the tray, minimised, behind others. */
export function showWindow(window: BrowserWindow): void {
  if (window.isMinimized()) window.restore()
  window.show()
  window.focus()
}

/** Shows a screen of the app by its hash address, as if the maker had gone there. */
export function openScreen(window: BrowserWindow, hash: string): void {
  showWindow(window)
  if (/^#\/[\w/-]*$/.test(hash)) window.webContents.send('open-screen', hash)
}
