import { spawn } from 'node:child_process'
import { failed, ok, problem, type Result } from '../core/problems.ts'

/** Shows a folder in the computer's own file manager. Problem: `no-file-manager`. */
export function showFolder(folder: string): Promise<Result<null>> {
  const program = { win32: 'explorer', darwin: 'open' }[process.platform as string] ?? 'xdg-open'
  return new Promise((resolve) => {
    const child = spawn(program, [folder], { detached: true, stdio: 'ignore' })
    child.once('error', () => resolve(failed(problem('no-file-manager', `Open this folder yourself: ${folder}`))))
    child.once('spawn', () => {
      child.unref()
      resolve(ok(null))
    })
  })
}
