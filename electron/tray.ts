import { execFile } from 'node:child_process'
import { Menu, nativeImage, Tray } from 'electron'

export interface TrayActions {
  show(): void
  quit(): void
  readonly staysInTray: boolean
  setStaysInTray(stays: boolean): void
}

/** The app's place in the tray: the way back to a closed window, and the way to quit. */
export function putInTray(icon: string, { show, quit, staysInTray, setStaysInTray }: TrayActions): Tray {
  const size = process.platform === 'darwin' ? 18 : 24
  const tray = new Tray(nativeImage.createFromPath(icon).resize({ width: size, height: size }))
  tray.setToolTip('Out of Clamps')
  tray.setContextMenu(
    Menu.buildFromTemplate([
      { label: 'Open Out of Clamps', click: show },
      {
        label: 'Stay here when the window is closed',
        type: 'checkbox',
        checked: staysInTray,
        click: ({ checked }) => setStaysInTray(checked),
      },
      { type: 'separator' },
      { label: 'Quit', click: quit },
    ]),
  )
  tray.on('click', show)
  return tray
}

/**
 * Whether this desktop shows tray icons. Electron cannot tell: on Linux an icon that nobody shows looks like any other,
 * and a window closed to it would be lost. There the session bus knows whether something takes icons (the
 * freedesktop.org specification StatusNotifierItem).
 */
export async function hasTray(): Promise<boolean> {
  if (process.platform !== 'linux') return true
  const bus = 'org.freedesktop.DBus'
  const [path, watcher] = ['/org/freedesktop/DBus', 'org.kde.StatusNotifierWatcher']
  const answers = await Promise.all([
    outputOf(
      'gdbus',
      'call',
      '--session',
      '--dest',
      bus,
      '--object-path',
      path,
      '--method',
      `${bus}.NameHasOwner`,
      watcher,
    ),
    outputOf(
      'dbus-send',
      '--session',
      '--print-reply',
      `--dest=${bus}`,
      path,
      `${bus}.NameHasOwner`,
      `string:${watcher}`,
    ),
  ])
  return answers.some((answer) => /\btrue\b/.test(answer))
}

const outputOf = (program: string, ...args: string[]): Promise<string> =>
  new Promise((resolve) => {
    execFile(program, args, { timeout: 2000 }, (error, output) => resolve(error === null ? output : ''))
  })
