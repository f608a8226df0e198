import { buildIfStale } from '../commands/build.ts'
import { openDisplay } from '../test/support/display.ts'
import { findElectron } from '../test/support/electron-program.ts'

/** What a benchmark of the real window needs: an Electron with its environment, a display, and a build of today. */
export async function windowToMeasure() {
  const electron = await findElectron()
  const display = await openDisplay()
  if (!electron.there || !display.there) throw new Error('There is no Electron, or no display for it.')
  if (!(await buildIfStale())) process.exit(1)
  const { program, env } = electron.value
  return { program, env: { ...env, ...display.value.env }, closeDisplay: () => display.value.close() }
}
