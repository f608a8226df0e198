import { dirname, join } from 'node:path'
import { _electron, type ElectronApplication } from 'playwright-core'
import { projectFolder } from '../../commands/run-program.ts'
import { PATIENCE_MS } from './patience.ts'

/**
 * Starts an app's window to be driven by Playwright, which holds the app back until it has found its way to Chromium. It does that only for
 * an Electron that it looks up itself; with `executablePath` a window that opens in the meantime is, now and then, never seen.
 * @param args the app's folder first
 */
export function launchHeldBack(
  program: string,
  args: readonly string[],
  env: Readonly<Record<string, string | undefined>>,
): Promise<ElectronApplication> {
  if (!program.startsWith(join(projectFolder, 'node_modules/electron'))) {
    process.env['ELECTRON_OVERRIDE_DIST_PATH'] = dirname(program)
  }
  return _electron.launch({
    // Chromium's sandbox does not run as root.
    chromiumSandbox: process.getuid?.() !== 0,
    args: [...args],
    env: env as Record<string, string>,
    timeout: PATIENCE_MS,
  })
}
