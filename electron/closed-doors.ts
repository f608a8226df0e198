import { app, session } from 'electron'
import { isOwnPage } from './page-origin.ts'

/** A page may put text into the clipboard where a button is pressed for it; it may not read what is there. */
const COPYING = 'clipboard-sanitized-write'

/**
 * What no page of this app may do, whatever it holds: leave the app's origin, open windows or embed other pages, or use
 * a device. To be called when the app is ready and has no window yet.
 */
export function closeDoors(origin: string): void {
  session.defaultSession.setPermissionRequestHandler((_contents, wish, answer) => answer(wish === COPYING))
  session.defaultSession.setPermissionCheckHandler((_contents, wish) => wish === COPYING)
  session.defaultSession.setDevicePermissionHandler(() => false)
  // It would fetch its dictionaries from the network.
  session.defaultSession.setSpellCheckerEnabled(false)

  app.on('web-contents-created', (_event, contents) => {
    contents.on('will-attach-webview', (event) => event.preventDefault())
    contents.on('will-navigate', (event) => {
      if (!isOwnPage(event.url, origin)) event.preventDefault()
    })
    contents.on('will-redirect', (event) => {
      if (!isOwnPage(event.url, origin)) event.preventDefault()
    })
    contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  })
}
