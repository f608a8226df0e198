import { Menu, type MenuItemConstructorOptions } from 'electron'

/** The window's menu: what the system expects, and a way to quit that does not depend on a tray. */
export function setMenu(): void {
  const file: MenuItemConstructorOptions =
    process.platform === 'darwin'
      ? { role: 'appMenu' }
      : {
          label: 'Shop',
          submenu: [
            { role: 'close', label: 'Close the window' },
            { role: 'quit', label: 'Quit', accelerator: 'Ctrl+Q' },
          ],
        }
  Menu.setApplicationMenu(
    Menu.buildFromTemplate([
      file,
      { role: 'editMenu' },
      {
        label: 'View',
        submenu: [
          { role: 'resetZoom' },
          { role: 'zoomIn' },
          { role: 'zoomOut' },
          { type: 'separator' },
          { role: 'togglefullscreen' },
        ],
      },
    ]),
  )
}
