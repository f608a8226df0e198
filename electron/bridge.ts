import { ipcMain, type BrowserWindow, type WebFrameMain } from 'electron'
import type { DeskByText } from '../desk/desk.ts'
import { isOwnPage } from './page-origin.ts'

/** Carries calls from the window's page to the desk, and what the desk tells to the page. */
export function bridgeToDesk(desk: DeskByText, window: BrowserWindow, origin: string): void {
  ipcMain.handle('call', (event, name: unknown, input: unknown) => {
    if (!isFromPage(event.senderFrame)) throw new Error('Only the page of the app gets answers.')
    return desk.call(String(name), input)
  })

  const isFromPage = (frame: WebFrameMain | null): boolean =>
    frame !== null && frame === window.webContents.mainFrame && isOwnPage(frame.url, origin)

  const stopTelling = desk.onEvent((event) => {
    if (!window.isDestroyed()) window.webContents.send('event', event)
  })
  window.on('closed', stopTelling)
}
