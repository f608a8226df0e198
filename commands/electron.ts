import { spawnSync } from 'node:child_process'
import { projectFolder } from './run-program.ts'

/** The Electron to start, downloaded first if need be; or why there can be no window, as half a sentence. */
export function findWindowProgram(): { readonly program: string } | { readonly why: string } {
  if (process.platform === 'linux' && !process.env['DISPLAY'] && !process.env['WAYLAND_DISPLAY'])
    return { why: 'there is no display' }
  const given = process.env['ELECTRON_EXEC_PATH']
  if (given !== undefined) return { program: given }

  // What Electron itself says while it downloads is of use; the stack trace of a failed one is not.
  const { status, stdout } = spawnSync(process.execPath, ['-p', "require('electron')"], {
    cwd: projectFolder,
    encoding: 'utf8',
  })
  const program = stdout.trim().split('\n').at(-1)
  return status === 0 && program ? { program } : { why: "Electron's own files cannot be downloaded" }
}

/** Chromium's sandbox does not run as root; without this the window would not open at all. */
export const sandboxSwitch = (): string[] => (process.getuid?.() === 0 ? ['--no-sandbox'] : [])
