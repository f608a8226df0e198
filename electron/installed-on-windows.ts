import { execFile } from 'node:child_process'
import { basename, dirname, join } from 'node:path'
import type { App } from 'electron'
import { SCHEME } from '../core/labels/piece-code.ts'

/** What the installer of Windows wants of the program. */
type InstallerTask = 'settle in' | 'move out' | 'nothing'

const TASKS: Readonly<Record<string, InstallerTask>> = {
  '--squirrel-install': 'settle in',
  '--squirrel-updated': 'settle in',
  '--squirrel-uninstall': 'move out',
  '--squirrel-obsolete': 'nothing',
}

/**
 * The installer of Windows starts the program with one of these words when it has put it in place or takes it away, and waits
 * until it ends: no window opens then, and nobody's data are touched.
 * @returns null when it was started to be used
 */
export function installerTask(platform: NodeJS.Platform, [first = '']: readonly string[]): InstallerTask | null {
  return platform === 'win32' ? (TASKS[first] ?? null) : null
}

/** Puts the program into the menu and has it open codes on tags, or takes both back; then ends. */
export function doInstallerTask(
  task: InstallerTask,
  app: Pick<App, 'setAsDefaultProtocolClient' | 'removeAsDefaultProtocolClient' | 'exit'>,
  program: string,
  run: (program: string, args: readonly string[], done: () => void) => unknown = execFile,
): void {
  if (task === 'nothing') return app.exit()
  if (task === 'settle in') app.setAsDefaultProtocolClient(SCHEME)
  else app.removeAsDefaultProtocolClient(SCHEME)
  // The installer leaves this one beside the folder of each version.
  const updater = join(dirname(program), '..', 'Update.exe')
  const what = task === 'settle in' ? '--createShortcut' : '--removeShortcut'
  run(updater, [`${what}=${basename(program)}`], () => app.exit())
}
